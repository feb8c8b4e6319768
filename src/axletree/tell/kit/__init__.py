"""How is a kit drawn?

Modules:
  drawing  Which length does each number of the kit mean? The rig from the east, with its measures.
"""
