"""How is levelling told?

Modules:
  data     What does a program get to know about levelling? Keys carry units.
  drawing  Which leg, how much: the tripod from above, with millimetres at each foot.
  text     In which sentences is levelling told: which leg, how much, and what a leftover tilt does?
"""
