"""How is told what Moon, planets and double stars show at the eyepiece?

Modules:
  data                 What does a program get to know of a body at the eyepiece? Keys carry units.
  disc_drawing         How do Moon and planets look in a round view? Ink on paper.
  field_drawing        Where in a round field is Moon or planet drawn, and when once more enlarged?
  forms                Which form has a body at the eyepiece for a program?
  happenings_text      In which words is told what moons do with their planet, and when?
  lunar_text           In which sentences is the Moon's face told, and what stands in its light?
  moon_features_text   What may be said of the Moon's best known features?
  planet_text          In which sentences are a planet's disc, rings and moons told?
  text                 Which sentences stand on an answer, which on a stop?
  way_text             In which words is told where something lies in the eyepiece?
"""
