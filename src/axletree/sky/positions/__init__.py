"""Where does each object stand, for this observer, at each instant?

Modules:
  bodies      Where do the Sun, the Moon and the planets stand, how large, and what shape do they
              show?
  body_day    Where does one body stand at any moment of a day, asked many times?
  ephemeris   Where are the Sun, the Moon and the planets in space?
  light_time  How long was the light of a body of the solar system on its way?
  magnitudes  How bright do the planets and the Moon look, in visual magnitudes?
  objects     Where do catalogue objects of any kind stand: stars, nebulae, planets, Sun and Moon
              together?
  orbiting    Where does a comet or a minor planet stand for this observer, and how bright is it
              there?
  poles       How is each planet turned in space, and how flat is it?
  pulled      How do the planets bend an orbit between the day of its elements and the moment asked
              for?
  stars       Where does each star stand, at each instant, for this observer?
"""
