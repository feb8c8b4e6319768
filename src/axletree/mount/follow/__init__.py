"""Which knob, which way, how fast; which rate; how long is an object held?

Modules:
  altaz_rates  What would a mount with a vertical axis have to do to follow the same object?
  following    What keeps this object in view on this mount, by hand or by motor?
  gearing      Which knob, which way, how fast?
  nudge        How often must the knob be touched with each eyepiece, and how long may the camera
               look?
  rates        How fast does the hour axis have to turn, for this object, through this air?
"""
