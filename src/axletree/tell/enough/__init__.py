"""How is 'good enough' told?

Modules:
  drawing  Is the alignment good enough? A ruler of axis errors, with what each method leaves.
  text     How is 'good enough' told: the largest axis error that doesn't matter, and what reaches
           it?
"""
