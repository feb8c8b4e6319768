"""What does a program get to know of each part of a way to an object?

Modules:
  hop    Which stars does the finder go by, for a program?
  steps  Which turns lead there, and how is it searched, for a program?
  view   What does each instrument show, for a program?
  where  Where does the bare eye look, for a program?
"""
