"""How high do obstacles stand around a place, in every direction?

Modules:
  obstacles  How high does one obstacle reach, seen from many places in many directions?
  of_site    Which skyline do the kit and its CSV file hold?
  skyline    How high do obstacles stand around the spot, in every direction?
  yard       What skyline does a yard plan give at any place in it?
"""
