"""Which leg, how much, and what does a leftover tilt do?

Modules:
  leftover  What does a tilt that remains spoil, and what not?
  legs      Which leg of the tripod, and by how much, until the top stands level?
"""
