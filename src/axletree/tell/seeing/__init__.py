"""How is told how well an object shows, and under what sky?

Modules:
  text  In which sentences is told how well an object shows, what it looks like, under what sky?
"""
