"""How long can an object be followed on each tube side, and which side is better?

Modules:
  arcs         When does something begin to be in the way on the way round, and when does it cease?
  better_side  Which of two tube sides is better, and how is that said in a sentence?
  choice       Which tube side for this object, and what awaits the person on each?
  reach        Over which hour angles can each tube side follow, at each declination?
  ring_turn    How far should the tube be turned in its rings (or the diagonal) to serve a whole
               list?
  sides_now    Which side, how much room and why, for any objects at one moment?
  table        How long can an object be followed on each tube side, and what ends it?
"""
