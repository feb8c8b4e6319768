"""Which finder fields lead from a naked-eye star to the object?

Modules:
  recognise  Is the star that a person takes the one that is meant?
  pattern    Which stars about it tell it from those it may be taken for?
  shortest   Which way through a graph costs least?
  way        Which chain of stars leads to the object, and how surely?
  answer     What is asked of a hop, and what is answered?
  hop        How does a finder get there, step by step?
  help       What would make a hop sure enough, where none is?
"""
