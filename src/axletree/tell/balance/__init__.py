"""How are balance and tipping told?

Modules:
  data           What does a program get to know about balance? Keys carry units.
  drawing        Where do weights and tube go? Shaft, tube and the tube's cross-section, each to
                 scale.
  drawing_text   Which words stand on the drawings of balance and stand?
  locks_data     What does a page get to know about axes whose locks are open? Keys carry units.
  scale_text     How is a scale reading answered?
  small_drawing  Where do weights and tube go, in a picture no wider than a third of a sheet of
                 paper?
  stand_data     What does a program get to know about tipping? Keys carry units.
  stand_drawing  How firmly does the rig stand? The feet from above, the centre of mass, and the
                 worst push.
  stand_text     How is tipping told: how firmly the rig stands, and what helps?
  text           How is balance told: where things go, what is left over, and in which order to do
                 it?
  work_text      How is the work of balancing told: its order, what can hurt, and what the places
                 rest on?
"""
