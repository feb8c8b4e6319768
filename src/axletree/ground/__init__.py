"""The ground: where the tripod stands, which way is north, and is it level?

Rooms, each with its modules at the head of its `__init__`:
  level      Which leg, how much, and what does a leftover tilt do?
  north      Which way is the elevated pole, by every method that works here and now?
  skyline    How high do obstacles stand around a place, in every direction?
  spot       Which place in the yard is the best for the tripod?

Modules:
  magnetism  How far does a compass point from true north here, and how well is that known?
"""
