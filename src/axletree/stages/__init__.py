"""Each stage of the job as one function: kit and typed request in, one frozen answer out.

This floor puts the answers of the floors below together and computes nothing that belongs to one
of them. What comes back holds figures with their errors, and reasons, warnings and assumptions as
enumerations with their figures, never sentences: text, JSON, drawings, paper and pages are made
from it in `tell`, side by side. A command parses, asks and delivers; a route reads its query,
asks and delivers. No file is read here but those that the kit names beside itself, no clock.

Rooms, each with its modules at the head of its `__init__`; a module `NAME` holds `NameRequest`,
`NameAnswer` and the function `name`:
  set_up  What does each stage of setting up answer, from the spot to the check of the axis?
  target  What is answered about one object: where it stands, which side, how it is followed?
  night   What is answered about a night and a year: which objects, which order, which night?
  kit     What is answered about a place and a kit?
"""
