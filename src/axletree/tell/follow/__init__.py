"""How is following told?

Modules:
  altaz_text    How is an alt-azimuth mount on the same object told?
  axis_text     In which words is told what the declination knob has to do where the axis is off?
  data          What does a program get to know about following? Keys carry units; never is null.
  drawing       When does each eyepiece lose the object, and where is the nudge due?
  drawing_text  Which words stand on the drawing of the eyepieces' fields?
  drive_text    In which words is told what the motor does, and how long a camera may expose?
  text          How is following told: which knob, which way, how fast, how often?
"""
