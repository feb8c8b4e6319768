"""How is the record told: evenings, entries, what was found, what the bolts taught?

Modules:
  data  What does a program get to know about the record? An evening's own form is that of an
        export.
  text  In which sentences is the record told?
"""
