"""How is told where an object is found, and what shows on the way?

Modules:
  data          What does a program get to know about how an object is found? Keys carry units.
  drawing       What will the eye see on the way? The fields of finder and eyepieces, side by side.
  hop_text      In which sentences is told how a finder goes from star to star to an object?
  learned_text  In which words is told what a way rests on: chances and a mount, assumed or learned?
  page_data     What does a page that goes through the steps get besides the figures?
  search_text   In which sentences are told a star on the object's parallel, and the search?
  sight_text    In which words is it told what somebody will see: how well, how large?
  small_view_drawing  What does a finder or an eyepiece show, small enough to stand beside a stop on
                paper?
  stop_text     In which lines does a stop of the evening tell how its object is found?
  text          In which sentences is told how an object gets into the eyepiece?
  view_drawing  What will the eye see? A small round drawing of one instrument's field.
  view_text     Which words stand on the drawing of a field?
  where_text    In which sentences is told where the bare eye looks?

Rooms:
  forms         What does a program get to know of each part of a way to an object?
"""
