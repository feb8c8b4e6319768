"""How is the way to true north told?

Modules:
  drawing  Which way is the pole: the ground from above, with every line that leads to it.
  text     How is the way to true north told: as text for people, as data for programs?
"""
