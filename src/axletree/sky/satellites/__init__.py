"""When does a satellite cross the evening sky, and where is it lit?

From two-line elements by SGP4 (package `sgp4`). Its places are in TEME, the true equator and mean
equinox of date that those elements are made for; they are turned by Greenwich mean sidereal time of
1982 and the pole's motion into the Earth-fixed frame, as D. A. Vallado, P. Crawford, R. Hujsak and
T. S. Kelso, Revisiting Spacetrack Report #3, AIAA 2006-6753, appendix C does.

Modules:
  brightness  How bright is a satellite whose standard magnitude somebody gives?
  crossings   When and where does a satellite cross the sky while it is lit and the sky is dark?
  motion      Where do satellites stand, from the ground, at each instant, and is the Sun on them?
  shadow      Is a satellite in the Earth's shadow?
  two_line    What does a set of two-line elements say, and is it written rightly?
"""
