"""How is told which places have a name?

Modules:
  data  What does a program get to know about places? Keys carry units.
  text  In which words are places told?
"""
