"""How is the choice of a night told?

Modules:
  data         What does a program get to know about the nights? Keys carry units, moments the
               site's offset.
  drawing      Which nights are worth it? A rule for each stretch of the year, with a tooth for
               every night.
  nights_file  How do the best nights and the special ones get into the calendar on somebody's
               phone?
  text         In which sentences is told which night, in the answer, its drawing and the calendar
               file?
"""
