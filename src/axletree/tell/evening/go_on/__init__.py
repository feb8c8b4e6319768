"""

Modules:
  text  How is the rest of the evening said, short enough for cold fingers?
"""
