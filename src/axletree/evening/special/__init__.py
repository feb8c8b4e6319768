"""What does the sky have on an evening, for this kit at its place?

Modules:
  of_kit  Which special nights does this kit have at its place, and which are great ones?
"""
