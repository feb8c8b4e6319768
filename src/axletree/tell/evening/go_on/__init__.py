"""

Modules:
  changes_text  In which words is told what was changed in an evening that goes on, and which sky is
                closed?
  text          How is the rest of the evening said, short enough for cold fingers?
"""
