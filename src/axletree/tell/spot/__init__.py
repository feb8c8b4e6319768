"""How is the best place for the tripod told?

Modules:
  data             What does a program get to know about the place for the tripod? Keys carry units.
  drawing          Where to put the tripod: the yard from above, its best place, and the skyline
                   there.
  drawing_text     Which words stand in the drawings of the yard and of the skyline?
  grid             How good is each place of the yard, as a table that a page can tint and ask
                   about?
  skyline_drawing  How high do obstacles stand all round, and is the pole clear of them?
  text             In which sentences is the best place for the tripod told, on screen, drawing and
                   page?
"""
