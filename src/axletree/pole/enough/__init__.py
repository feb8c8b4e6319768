"""How good must the axis be, and which way of setting it is good enough?

Modules:
  chance       How likely does an axis with these errors lie within a circle about the pole?
  fields       How much sky do the kit's eyepieces show?
  methods      Which way of aligning is good enough, so that nobody aligns longer than needed?
  movement     How does the picture in a tracking tube move when the axis is off the pole?
  need         Which eyepiece does the person look through tonight, and where does a camera point?
  of_kit       How far may the axis be off for all that this kit does, and how far off is it at
               first?
  rough        How well is the axis set without any view of the pole: by level, north, scale, then
               drift?
  still_point  How well is the axis set by the point of the field that stands still while the hour
               axis swings?
  tolerance    How far may the axis be off before anything that the person will do suffers?
"""
