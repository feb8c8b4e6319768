"""How is setting up for an evening told, stage by stage?

Modules:
  text  In which sentences is setting up for an evening told: answer, details and cautions a stage?
"""
