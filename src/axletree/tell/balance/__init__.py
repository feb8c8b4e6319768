"""How are balance and tipping told?

Modules:
  data             What does a program get to know about balance?
  drawing          Where do weights and tube go? Shaft, tube and the tube's cross-section, each to
                   scale.
  scale_text       How is a scale reading answered?
  stand_text       How is tipping told: how firmly the rig stands, and what helps?
  text             How is balance told: where things go, what is left over, and in which order to do
                   it?
  tipping_drawing  How firmly does the rig stand? The feet from above, the centre of mass, and the
                   worst push.
"""
