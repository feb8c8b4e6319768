"""How is a rehearsed evening told?

Modules:
  data  What does a page need to play an evening through, and a program to know of it?
  text  In which sentences is each step of a rehearsed evening told: what is done, held and minded?
"""
