"""Which way did a plain picture of the stars look, and how far is the axis off by several?

Modules:
  axis       How far is the axis off, by pictures between which only the hour axis was turned?
  detection  Where are the star images in a picture, and how bright is each?
  following  Where does the axis point now, by one more picture, after bolts were turned?
  lens       Where does a direction fall in the picture, and which direction does a pixel look in?
  listed     Which listed stars stand where, as seen through the air, when a picture was taken?
  looking    Where in the sky is each picture of a run found? About the pole first, then anywhere.
  matching   Which way did a picture look? Quads of its stars against quads of the list, each
             guess proved.
  quads      Which four stars look alike, whatever the turn and the scale of the picture?
  refine     Which attitudes and which one lens fit the stars of all pictures best, and how well?
  refusals   Why can pictures not be read as a run? Each refusal is one sentence with what would
             be right.
  run        Which way did each picture of a run look, through which one lens, and how well is
             that known?
  shot       What is one picture of a run: its light, its time, and about how wide it sees?
  spots      Which bright pixels belong together, and where is the middle of each such spot?
"""
