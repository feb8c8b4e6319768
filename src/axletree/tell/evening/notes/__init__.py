"""

Modules:
  plan_b_text  What is shown when clouds come?
  text         In which sentences are the evening's cautions, notes and assumptions told?
"""
