"""What is answered about one object: where it stands, which side, how it is followed?

Modules:
  find       How does the object get into the eyepiece, and what will the eye see there?
  follow     Which knob, which way, how fast and how often? One object and moment in, the hands'
             work out.
  gap        In which pose was a gap noted? An object and a moment in, or what the circles show.
  hop_views  What does the finder show while each star of a hop stands in its middle?
  point      Which side, how far, can I reach the eyepiece? An object and a moment in, both tube
             sides out.
  room       Where in the sky can each tube side follow? The rig in, its room over the whole
             sky out.
  teach      Why does one axis undo the Earth's turn? The place, and the bright stars that turn over
             it.
  where      Where does an object stand, from here, at a moment?
"""
