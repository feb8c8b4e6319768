"""How is the way to the pole told?

Modules:
  bolts_text     In which sentences are turns of the bolts told?
  cautions_text  In which sentences are cautions and assumptions about the pole told?
  data           What does a program get to know about the pole? Keys carry units.
  drawing        Where does the pole star go? The view through the polar scope, drawn like an
                 engraved dial.
  drawing_text   Which words stand on the drawing of the pole?
  forms          Which form has the answer about the pole for programs? Keys carry units.
  rough_text     In which sentences is the way told that needs no view of the pole: level, north,
                 scale, drift?
  swing_drawing  Which point of the field stands still while the hour axis swings? Three fields,
                 side by side.
  swing_drawing_text  Which words stand on the drawing of the point that stands still?
  text           In which sentences is the way to the pole told: the star, the scale, tonight?
  tube_text      In which sentences is the way told that sets the axis through the tube, by its
                 still point?
  whole_drawing  How is the whole answer about the pole drawn: the view along the axis, and the way
                 through it?
"""
