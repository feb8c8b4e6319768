"""How is it told which lengths pictures of the rig tell?

Modules:
  data  What does a program get to know about what pictures of the rig say?
  text  In which words is it told what pictures of the rig say?
"""
