"""How is the list of objects told?

Modules:
  data  What does a program get to know about the objects that show, and one object's year?
  text  How is the list of objects, and the year of one object, put into words?
"""
