"""How is told where an object stands?

Modules:
  data  What does a program get to know about an object's place? Keys carry units.
  text  In which sentences is told where an object stands?
"""
