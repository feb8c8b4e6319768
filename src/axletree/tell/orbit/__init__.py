"""How is told what is doubtful about a comet or a minor planet, and how well its light is known?

Modules:
  data  What does a program get to know about an object that goes by elements? Keys carry units.
  text  In which sentences are the doubts of an orbit told?
"""
