"""Which place on the Earth does a person mean, by name or in figures?

Modules:
  coordinates  Which latitude and longitude does a person mean by these figures?
  find         Where is the place that a person names or gives in figures?
  locate       Which one place is meant by a name, coordinates or a geo: URI?
  near         How far is it from here to the nearest place with a name, and is this land or sea?
"""
