"""How is told where an object is found, and what shows on the way?

Modules:
  view_drawing  What will the eye see? A small round drawing of one instrument's field.
  view_text     Which words stand on the drawing of a field?
"""
