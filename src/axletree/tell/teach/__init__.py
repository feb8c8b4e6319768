"""How is it shown why one axis undoes the Earth's turn?

Modules:
  drawing  Why does one axis undo the Earth's turn? The globe, and mounts on it parallel to its
           axis.
"""
