"""Which nights are special at this place: eclipses, meetings, occultations, meteors and others?

Modules, with what others call:
  ask            Which nights between two dates are special here? `special_nights`, `Wishes`
  kinds          Which moments and figures has each? `SpecialNight`, `SpecialKind`
  meetings       When do Moon, planets, stars and clusters share a field? `meetings_here`
  moon_eclipses  When is the Moon in the Earth's shadow? `earth_shadow`, `moon_eclipses_here`
  neighbours     Which stars and clusters may they meet?
  occultations   When does the Moon hide a star or a planet? `occultations_here`
  planets_year   When are oppositions, elongations, and Saturn's rings edge-on?
  rough          When does anything come near anything else, roughly?
  shower_list    Which meteor showers come every year?
  showers        Which nights have meteors, and how many are seen? `showers_here`, `NightSky`
  sun_eclipses   When does the Moon go before the Sun? `sun_eclipses_here`
  thin_moon      On which evening does the thin Moon first show? `thin_moons`, `crescent_class`
  watch          Where do two things stand, when are they closest, when do they touch?
"""
