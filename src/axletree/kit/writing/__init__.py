"""With which file does a person begin, and what does each of its keys ask?

Modules:
  questions  What does each key of the kit ask the person, in plain words?
  template   With which file does a person begin? A commented kit that asks for five numbers first.
  units      How is a value of the kit shown in the person's units, and read back?
"""
