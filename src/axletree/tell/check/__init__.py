"""How is the axis error told?

Modules:
  circles   What do circle readings say: of the axis, and of the mount itself?
  data      What is there to tell about the axis, as data for programs and as a drawing?
  doubts    How is it told to a person what is doubtful in a measurement, and what would settle it?
  drawing   Where does the axis point, how well is that known, and is it good enough? One sheet.
  findings  What does one measurement of the axis say: its estimate, its rows, and what looked
            wrong?
  text      How is the axis error told to a person, in at most 80 columns?
"""
