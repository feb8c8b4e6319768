"""How is the room of both tube sides told?

Modules:
  data     What does a program get to know about the room of both tube sides? Keys carry units.
  drawing  Where can each tube side follow, and for how long?
  text     In which sentences is the room of both tube sides told?
"""
