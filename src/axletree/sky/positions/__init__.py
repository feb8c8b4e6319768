"""Where does each object stand, for this observer, at each instant?

Modules:
  bodies      Where do the Sun, the Moon and the planets stand, how large, and what shape do they
              show?
  ephemeris   Where are the Sun, the Moon and the planets in space?
  magnitudes  How bright do the planets and the Moon look, in visual magnitudes?
  objects     Where do catalogue objects of any kind stand: stars, nebulae, planets, Sun and Moon
              together?
  poles       How is each planet turned in space, and how flat is it?
  stars       Where does each star stand, at each instant, for this observer?
"""
