"""How are both tube sides of one object told?

Modules:
  drawing  How does the rig stand in a pose: from the side, from behind, and from above?
  text     How are both tube sides of one object told, beside each other?
"""
