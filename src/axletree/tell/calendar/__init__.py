"""How is the choice of a night told?

Modules:
  drawing      Which nights are worth it? A rule for each stretch of the year, with a tooth for
               every night.
  nights_file  How do the best nights get into the calendar on somebody's phone?
  text         How is the answer to 'which night?' said in words, and as data?
"""
