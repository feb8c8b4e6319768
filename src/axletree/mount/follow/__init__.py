"""Which knob, which way, how fast; which rate; how long is an object held?

Modules:
  altaz_comparison  What would an alt-azimuth mount have to do on the object that this kit follows?
  altaz_rates       What would a mount with a vertical axis have to do to follow the same object?
  gearing           Which knob, which way, how fast?
  nudge             How often must the knob be touched with each eyepiece, and how long may the
                    camera look?
  place             Where does the object that is followed stand, how large is it, and how fast does
                    it go?
  rates             How fast does the hour axis have to turn, for this object, through this air?
"""
