"""Of which parts is the rig made, and where does each stand when the axes turn?"""
