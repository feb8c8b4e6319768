"""How is the way to true north told?

Modules:
  data     What does a program get to know about the way to true north? Keys carry units.
  drawing  Which way is the pole: the ground from above, with every line that leads to it.
  text     In which sentences is the way to true north told, on the screen, the drawing and the
           page?
"""
