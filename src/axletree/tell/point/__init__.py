"""How are both tube sides of one object told?

Modules:
  cautions_text  In which sentences are cautions, refusals and assumptions about a pose told?
  data           What does a program get to know about both tube sides of one object? Keys carry
                 units.
  drawing        How does the rig stand in a pose: from the side, from behind, and from above?
  text           In which sentences are both tube sides of one object told, beside each other?
"""
