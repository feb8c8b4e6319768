"""Which night of a year is worth most, for an object or for the audience?

Modules:
  best_nights    When in the year is an object best from here, with this telescope?
  night_points   How many points is each object worth on each of many nights, and how many do the
                 stops make?
  night_samples  When could each of many nights' stops be, and under what Sun, Moon and planets?
  nights_scored  Which night is worth most for this spot, this rig and this audience?
  sights         Which fixed objects show from here on each of many nights, how clearly and how
                 high?
"""
