"""How is 'good enough' told?

Modules:
  data         What does a program get to know about how good is good enough? Keys carry units.
  drawing      Is the alignment good enough? A ruler of axis errors, with what each method leaves.
  reason_text  In which words is it told where the movement that is allowed comes from?
  text         In which sentences is 'good enough' told: the largest axis error allowed, and what
               reaches it?
"""
