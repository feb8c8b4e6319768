"""How is following told?

Modules:
  altaz_text  How is an alt-azimuth mount on the same object told?
  data        What does a program get to know about following?
  drawing     When does each eyepiece lose the object, and where is the nudge due?
  text        How is following told: which knob, which way, how fast, how often?
"""
