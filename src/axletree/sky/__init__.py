"""Where is everything in the sky, seen from one spot on the Earth?

Rooms, each with its modules at the head of its `__init__`:
  air         What does the air do to light: how far is it bent, how much is lost, how bright does
              it glow?
  bulk        Where do very many objects stand through a whole night or year, quickly?
  catalogue   Which objects are there, and what are they called?
  discs       What do the discs of the planets show in an eyepiece?
  events      When does something in the sky happen: rise, set, culmination, twilight, phase?
  happenings  What happens on the Moon or a planet between two instants?
  lunar       What does the Moon's face show: how far has it nodded, where is the light, what stands
              in it?
  moons       Where do Jupiter's four bright moons and Saturn's Titan stand, and when do they do
              something?
  orbits      How does what circles the Sun by published elements move, and how bright is it?
  positions   Where does each object stand, for this observer, at each instant?
  satellites  When does a satellite cross the evening sky, and where is it lit?
  special     Which nights are special here: eclipses, meetings, occultations, meteors and others?
  time        Which moment and which night are meant, and how is the Earth turned then?

Modules:
  arrays      What kinds of arrays does the whole house speak of?
  contrast    How faint a thing can the eye make out against the sky, bare and through a telescope?
  directions  How do the angles of the sky turn into directions on the ground, and back?
  observer    Where on the Earth does the person stand, and through how much air do they look?
  optics      What does this tube show through this eyepiece or on this camera, and for how long at
              rest?
  rotations   Which matrix turns directions about an axis by an angle?
  sun_rule    Which directions are too near the Sun for any tube or eye, and until when?
"""
