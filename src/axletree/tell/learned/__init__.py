"""How is it told what notes of gaps taught of the rig?

Modules:
  data  What does a program get to know about notes of gaps and what they taught?
  text  In which words is it told what notes of gaps taught of the rig?
"""
