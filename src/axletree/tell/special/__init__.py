"""How is a special night told: an eclipse, a meeting, meteors?

Modules:
  data            What does a program get to know about what makes a night special?
  on_object_text  In which words is told what happens on one object tonight?
  text            In which sentences is told what makes a night special, and when to look?
  tonight_text    What does one evening's sheet say of what is special tonight?
"""
