"""Of which parts is the rig made, and where does each stand when the axes turn?

Modules:
  build              What does this kit look like as a rig: every part in its place, balanced?
  eyepiece           Where does the eye have to go, and can the eyepiece fall out?
  field_orientation  How does the sky stand in the eyepiece, and which way does it drift?
  kinematics         Where does every part stand when the axes turn, and how must they turn to reach
                     an object?
  own_axes           How do the axes of a mount stand that is known not to be a perfect one?
  parts              Of which parts is the rig made, where do they sit, and what do they weigh?
  tripod             Where do legs, tray and column stand, and where when the tripod is turned or
                     leans?
  tube_parts         What rides on the tube, and where is its eyepiece?
  still_point        Where in the field of the tube lies the point that stands still while the hour
                     axis swings?
  shaft_turn         At which hour angle of an object has the hour shaft turned so far?
  turned             What does the kit look like with its focuser or diagonal at another angle
                     around the tube?
  way                Which way does the tube take over the sky from one pose to another?
"""
