"""How is told when visitors can look up for a satellite?

Modules:
  data  What does a program get to know about the crossings of satellites? Keys carry units.
  text  In which sentences is a satellite's crossing told?
"""
