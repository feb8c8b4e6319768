"""Where must the polar axis point, and where does the pole star stand about it?

Modules:
  axis_view          What does the person look at the pole with: a polar scope, a hollow axis, the
                     tube, the eye?
  bore               Where does the pole star go when the axis is only a hollow bore without a lens?
  scale              What should the altitude scale show, and what does a reading of it say about
                     the axis?
  scope_orientation  Which way up is the sky in a polar scope: erect, turned, mirrored, and where is
                     twelve o'clock?
  stars_near_pole    Which stars show the way to each pole, and what are they called?
  target             Where must the polar axis point, and how far from there is the pole star?
  view               How does the sky around the pole look through this polar scope, now and in the
                     next hours?
  visible            When does the pole star come out tonight, and does anything stand in front of
                     it?
"""
