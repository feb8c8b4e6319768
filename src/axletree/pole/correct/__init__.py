"""Which bolt, which way, how many turns, and what then?

Modules:
  advice         What follows from what is known of the axis: turn which bolt, expect what, measure
                 what next?
  after_turning  After the bolts are turned: which way should a star move in the eyepiece, and what
                 drift is left?
  bolts          Which bolt, which way, how many turns? From an axis error to moves of the head.
  next_star      Which star should be measured next, and for how long, to shrink the error of the
                 axis most?
"""
