"""How far is the axis off, and how true is the mount, from its own circles?

Modules:
  model     What would the circles of such a mount show, and from where does a solver set out?
  observed  What was read on the circles, how well, and what is believed of such mounts beforehand?
  pointing  What do measurements of the axis and of the circles tell the pointing model?
  solve     How far is the axis off, and how true is the mount, from its own circles?
  suspects  What is wrong with readings that don't agree: a mistaken star, or a circle set anew?
"""
