"""How does what circles the Sun by published elements move, and how bright is it?

Heliocentric places and magnitudes from the six elements of a comet or a minor planet, and the
reading of one line of the Minor Planet Center's published formats. Where it stands for an observer,
with the planets' pull, is `sky.positions.orbiting` and `sky.positions.pulled`.

Modules:
  brightness  How bright is a comet or a minor planet, and how wide is a comet's coma?
  lines       What does one line of the Minor Planet Center's formats say?
  names       Which names and numbers mean a comet or a minor planet?
  orbit       What are the elements of an orbit, and what is doubtful about them?
  packed      Which day and which designation do the Minor Planet Center's packed letters mean?
  two_body    Where does a body stand that only the Sun pulls, on any orbit: ellipse, parabola,
              hyperbola?
"""
