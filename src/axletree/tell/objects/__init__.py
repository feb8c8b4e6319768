"""How is the list of objects told?

Modules:
  text  How is the list of objects, and the year of one object, put into words and data?
"""
