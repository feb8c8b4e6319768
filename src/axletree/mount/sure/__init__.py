"""How sure is a room, from what is known of the rig's dimensions?
"""
