"""How do both knobs turn the tube from a star to an object, and how surely?

Modules:
  arrival   Where may the tube point after the turns, how far off the object?
  knobs     How far does each knob turn its axis, how well, and when are the locks opened?
  recognised
            Which stars does a person recognise without a chart?
  seeking   What is to be found, when, under which sky; and which named stars show then?
  shafts    By how much do both shafts turn from a star to an object?
  sweep     It isn't in the field: along which legs do the knobs search around the place?
"""
