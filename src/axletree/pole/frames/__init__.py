"""How far is the axis off, from camera frames?

Modules:
  air       How far do frames turn, and the pole rise, when the air is not the one that was assumed?
  attitude  How did the camera turn from one frame to the next?
  errors    How well are the attitudes of frames known: each alike and alone, or all together?
  one_run   Are these frames of one camera in one run, where did their pixels look, and how well?
  solve     How far is the axis off, from camera frames between which only the hour axis was turned?
"""
