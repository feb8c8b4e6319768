"""How is the way to true north told?

Modules:
  cautions_text  In which sentences is told what bars a way to north, what to beware of and what is
                 assumed?
  data           What does a program get to know about the way to true north? Keys carry units.
  drawing        Which way is the pole: the ground from above, with every line that leads to it.
  method_text    In which sentences is one method of finding north told: what to do, and how good it
                 is?
  text           In which sentences is the way to true north told, on the screen, the drawing and
                 the page?
"""
