"""What do the discs of the planets show in an eyepiece?

Modules, with what others call:
  look   How large is a planet's disc, how is it lit, and how does its axis lie? `disc`
  rings  How open are Saturn's rings, and which face is seen? `saturn_rings`
"""
