"""What may be said to visitors of the best known objects? Two plain sentences each.

The facts are from memory. So are the distances; most are checked against a published one and say
against which (`saying.DistanceSource`). None is read from another's guide.

Modules:
  bodies_text         What may be said of the Moon and the planets?
  galaxies_text       What may be said of galaxies?
  globulars_text      What may be said of globular clusters?
  nebulae_text        What may be said of nebulae?
  open_clusters_text  What may be said of open clusters and star clouds?
  pairs_text          What may be said of double stars?
  saying              Of what is a saying made? `Saying`, `DistanceSource`
  stars_text          What may be said of single stars, bright or deep in colour?
  text                Which two sentences may be said of an object? `sayings_of`
"""
