"""What may be said to visitors of the best known objects? Two plain sentences each.

Distances and facts are from memory, checked where the house has the figure: those of stars against
the parallaxes of the catalogue (tests/tell/test_sayings.py). None is read from another's guide.

Modules:
  bodies_text    What may be said of the Moon and the planets?
  clusters_text  What may be said of star clusters?
  galaxies_text  What may be said of galaxies?
  nebulae_text   What may be said of nebulae?
  saying         Of what is a saying made? `Saying`
  stars_text     What may be said of double and coloured stars?
  text           Which two sentences may be said of an object? `sayings_of`
"""
