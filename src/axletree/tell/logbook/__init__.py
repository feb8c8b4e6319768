"""In which words is told what the logbook brings?

Modules:
  text  In which sentences is told what the logbook brings into an answer: learned bolts, repeats?
"""
