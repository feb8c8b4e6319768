"""How long can an object be followed on each tube side, and which side is better?

Modules:
  along        When does the room end of something that moves among the stars?
  arcs         When does something begin to be in the way on the way round, and when does it cease?
  better_side  Which of two tube sides is better, and why?
  choice       Which tube side for this object, and what awaits the person on each?
  contact      On the way round the pole, where does anything come nearer than the margin, and
               where is a stop?
  ends         What can end the time for which an object is followed, or keep it from being followed
               now?
  open_sky     When is an object too low or behind the skyline, on its way round the pole?
  reach        Over which hour angles can each tube side follow, at each declination?
  ring_turn    How far should the tube be turned in its rings (or the diagonal) to serve a whole
               list?
  side_answer  What awaits the person on one tube side of an object?
  sides_now    Which side, how much room and why, for any objects at one moment?
  table        How long can an object be followed on each tube side, and what ends it?
  usable       Can objects be looked at on one tube side, at this moment and no longer?
"""
