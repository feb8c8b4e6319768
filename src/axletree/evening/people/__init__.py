"""What do the people of an evening bring: children who leave early, what they saw
before, how much they know of a mount?

Modules:
  children     Until when are the children there, and what waits until they have gone?
  newcomers    On which tube side does a newcomer show an object?
  seen_lately  What was shown lately, so that it counts less, or why does nobody know?
"""
