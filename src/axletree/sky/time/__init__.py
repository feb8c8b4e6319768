"""Which moment and which night are meant, and how is the Earth turned then?

Modules:
  earth_rotation  How far is the Earth's turn ahead of the clock, and where does its axis pierce the
                  ground?
  instants        Which moment is meant, in every time scale that the sky needs?
  nights          Which night is meant, and when does it begin and end?
  orientation     Which way is the Earth turned, and how does it move, at many instants at once?
  parse           Which moment or date do a person's words mean, at a site whose clock shows so much
                  now?
"""
