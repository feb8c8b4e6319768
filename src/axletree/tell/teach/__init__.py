"""How is it shown why one axis undoes the Earth's turn?

Modules:
  data     What does the page beside the globe get to know?
  drawing  Why does one axis undo the Earth's turn? The globe, and mounts on it parallel to its
           axis.
  text     Which words stand on the drawing of the globe and the mounts upon it?
"""
