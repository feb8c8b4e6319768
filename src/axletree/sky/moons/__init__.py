"""Where do Jupiter's four bright moons and Saturn's Titan stand, and when do they do something?

Modules, with what others call:
  before_the_disc  How far does a moon, or its shadow, stand from the edge of its planet's disc?
                   `before_disc`, `edge_distance_km`, `shadow_on_disc_km`
  four_of_jupiter  Where do Io, Europa, Ganymede and Callisto stand about Jupiter?
                   `jovicentric_km`
  phenomena        When do moons pass before, behind and through the shadow of their planet?
                   `moon_phenomena`, `phenomena_table`, `MoonEvent`, `Contact`
  places           Where do the moons stand beside their planet, as one looks at it?
                   `moon_places`
  sight            Along which lines do the Earth and the Sun see a planet, and how late?
  systems          Which moons does a small telescope show beside their planets? `SYSTEMS`
  titan            Where does Titan stand about Saturn? `titan_km`
"""
