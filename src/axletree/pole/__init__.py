"""The polar axis: where it should point, where it does point, and how to move it there.

Rooms, each with its modules at the head of its `__init__`:
  aim            Where must the polar axis point, and where does the pole star stand about it?
  correct        Which bolt, which way, how many turns, and what then?
  drift          How far is the axis off, from the drift of stars?
  enough         How good must the axis be, and which way of setting it is good enough?
  frames         How far is the axis off, from camera frames?
  long_exposure  How far is the axis off, by one exposure in which the hour axis was turned?
  photographs    Which way did a plain picture of the stars look, and how far is the axis off?
  picture        Where does each pixel of a frame look, by the frame's own header?
  picture_files  What does a picture file hold, and when and through what was it taken?
  readings       How far is the axis off, and how true is the mount, from its own circles?
  rows           What did the person write down? Rows, each mistake named by its
                 line.
  solution       What is known about the axis, by which fit, with which doubts?
"""
