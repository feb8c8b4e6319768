"""

Modules:
  text  In which sentences are the evening's cautions, notes and assumptions told?
"""
