"""Which objects are there, and what are they called?

Modules:
  constellations  What is a constellation called, from its three letters?
  deep_sky        Which clusters, nebulae and galaxies are there?
  doubles         Which double stars are worth showing?
  everyday        What do people mean who say an object's name as they say it at the telescope?
  names           Which spellings mean the same name?
  object_light    How does the light of a catalogued object gather?
  objects         What is the object that a person means by this name?
  pole_star       Which star leads to each pole, and how bright is the faint one?
  star_names      What are the stars called?
  star_counts     How many stars are there, down to a magnitude that no list of ours reaches?
  stars           Which stars are there, and where were they at J2000.0?
  stars_around    Which stars to V 10 stand in this patch of sky?
"""
