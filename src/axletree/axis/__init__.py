"""What do the circles of an imperfect mount show, and how well is it known?

Modules:
  circles   What do the circles of an imperfect mount show when the tube points at a star?
  frame     Which hour angle and declination does a mount see whose axis is a little off?
  unknowns  By which six figures does a mount differ from a perfect one, and how large are they
            usually?
"""
