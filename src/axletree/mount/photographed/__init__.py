"""What do pictures of the rig say of its dimensions, points marked on named places?

Modules:
  camera    Where on a picture does a point appear, and how does that change with the camera?
  marks     How are marks on pictures read from a file, or from what a page sends?
  picture   What was marked on a picture, and what is known of its camera?
  places    Which places of a rig can be marked on a picture, and where do they stand?
  solution  Which dimensions and cameras make the marks of all pictures most likely?
  start     From where was a picture taken, roughly?
"""
