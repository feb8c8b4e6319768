"""

Modules:
  data  What does a program get to know of an event: the table, and every telescope's evening?
  text  How is it said what every telescope of an event shows, when, and why that one?
"""
