"""How is it told which lengths pictures of the rig tell?

Modules:
  data     What does a program get to know about what pictures of the rig say?
  drawing  Which places are marked on a picture? The rig with its places numbered.
  text     In which words is it told what pictures of the rig say?
"""
