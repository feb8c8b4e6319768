"""What do Moon, planets and double stars show in an eyepiece at one moment?

Modules, with what others call:
  answer   What is told of a body at the eyepiece? `AtEyepiece`: `PlanetAtEyepiece`,
           `MoonAtEyepiece`, `PairAtEyepiece`
  ask      One answer for any object that shows more than a spot. `at_eyepiece`
  lunar    What does the Moon show?
  in_view  Where do a body's parts lie in a field, turned as the eye meets it? `disc_in_view`
  planet   What do a planet's disc, rings and moons show?
"""
