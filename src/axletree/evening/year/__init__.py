"""Which night of a year is worth most, for an object or for the audience?

Modules:
  best_nights    When in the year is an object best from here, with this telescope?
  deep_sky_left  How much of the deep sky that shows from here without Moon and twilight is left in
                 each slot?
  figures        What is a night worth for the deep sky, for Moon and planets, and to this audience?
  filling        Which object takes which slot of each of many nights?
  night_points   How many points is each object worth in each slot of each of many nights?
  night_samples  When could each of many nights' stops be, and under what Sun, Moon and planets?
  night_stops    Which stops would each of many nights have, and what are they worth?
  nights_scored  Which night is worth most for this spot, this rig and this audience?
  sights         Which fixed objects show from here on each of many nights, how clearly and how
                 high?
  slot_looks     How clearly and how high does each fixed object show at each slot of each of many
                 nights?
  special_lift   By how much does what the sky has on a night lift its score?
"""
