"""What does each stage of setting up answer, from the spot to the check of the axis?

Modules:
  axis_remarks    By which way was the axis measured, and what looked wrong in it and was settled?
  balance         Where do the weights and the tube go, and does the rig stand? Masses in, places
                  and push out.
  balance_locks   What do both axes do when their locks are opened, with weights and tube where a
                  hand put them?
  check           How far is the axis off? One measurement or all of tonight's in, the bolts to turn
                  out.
  check_findings  What does one measurement of the axis say: its estimate, what looked wrong, what
                  to do next?
  enough          How good must the axis be for what the person will do, and which method reaches
                  that soonest?
  level           Which leg, how much? One reading of a level in, the legs and what a leftover tilt
                  does out.
  measurements    Which measurement of the axis does somebody bring?
  north           Which way is true north (south)? A moment in, every method that leads to the pole
                  out.
  pictures_finding  What do plain pictures say of the axis?
  pole            How does the axis come onto the pole: what to set, where the star goes, what to
                  turn?
  pole_request    What is asked about the axis, and how far is it off by what was read or measured?
  spot            Where to put the tripod? A night and what it wants in, the judged yard and its
                  best place out.
"""
