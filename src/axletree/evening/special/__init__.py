"""What does the sky have on an evening, for this kit at its place?

Modules:
  crossings  When can visitors look up, for a satellite of the person's own list crosses the sky?
  of_kit     Which special nights does this kit have at its place, and which are great ones?
"""
