"""How is the choice of a night told?

Modules:
  data          What does a program get to know about the nights? Keys carry units, moments the
                site's offset.
  drawing       Which nights are worth it? A rule for each stretch of the year, with a tooth for
                every night.
  drawing_text  Which words stand on the drawing of the nights, and in the calendar file?
  nights_file   How do the best nights and the special ones get into the calendar on somebody's
                phone?
  text          In which sentences is told which night?
"""
