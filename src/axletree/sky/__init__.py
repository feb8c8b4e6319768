"""Where is everything in the sky, seen from one spot on the Earth?

earth_rotation  UT1-UTC and polar motion from the shipped IERS table
time            Instants: moments as UTC, TT and UT1; from and to aware datetimes
observer        Observer: latitude, longitude, elevation and air
directions      angles and vectors: hour angle, azimuth, separation, tangent plane, polar axis
refraction      true <-> apparent altitude, the refracted pole, airmass
orientation     the Earth's attitude at many instants, quickly (ERFA contexts)
positions       Stars -> Positions: apparent places, hour angle, azimuth, altitude, airmass
ephemeris       Sun, Moon and planets from the JPL DE440 excerpt, as vectors
magnitudes      how bright the planets and the Moon look
bodies          Sun, Moon and planets as seen: place, size, phase, magnitude, ring tilt
matrices        the factors of the quick tables
quick_air       altitude and azimuth for the quick tables
table           the whole catalogue through a whole night, quickly
windows         rise and set of the whole catalogue through a whole year, in closed form
nights          Night: from one local noon to the next
crossings       when a smooth value passes a level
twilight        sunset, the three twilights, darkness
dusks           the same of many nights, quickly, in closed form
events          rise, set and culmination in one night; twilight again
moon_phases     new, quarter and full Moons; equinoxes and solstices
optics          magnification, field, limits, drift through a field at rest
brightness      how bright the sky is: moonlight, twilight, extinction

Import the modules themselves; this package loads nothing by itself.
"""
