"""What does each telescope of one event show, and when?

Modules:
  allotment  Which telescope of an event does each object suit, and how is everything shared out
             fairly?
  share      What does each telescope of one event show, and when, so that neighbours do not show
             the same?
"""
