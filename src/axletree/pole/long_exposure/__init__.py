"""How far is the axis off, by one exposure in which the hour axis was turned?

Modules:
  along  Where does the axis go through the camera, if all stars drew arcs about it from their dots?
  arcs   Where are the dots of the still part, and the arcs that the turn drew from them?
  solve  How far is the axis off, by dots that tell the attitude and arcs that go round the axis?
"""
