"""How are both tube sides of one object told?

Modules:
  cautions_text  In which sentences are cautions, refusals and assumptions about a pose told?
  circles_data   What does a program get to know about the person's own circles? Keys carry units.
  circles_text   In which words are the person's own circles told, and on what their figures rest?
  columns_text   In which rows are both tube sides of one object set beside each other?
  data           What does a program get to know about both tube sides of one object? Keys carry
                 units.
  drawing        How does the rig stand in a pose: from the side, from behind, and from above?
  drawing_text   Which words stand in the drawing of both tube sides?
  text           In which sentences are both tube sides of one object told, beside each other?
"""
