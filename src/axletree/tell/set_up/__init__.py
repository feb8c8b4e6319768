"""How is setting up for an evening told, stage by stage?

Modules:
  finder_text  In which sentences is setting the finder told?
  text         In which sentences is setting up for an evening told, a stage at a time?
"""
