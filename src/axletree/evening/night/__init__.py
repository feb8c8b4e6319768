"""How dark does this night get, and when does each stage of setting up begin?

Modules:
  darkness      How dark does this night get, when does the pole star show, and what does the Moon
                do?
  set_up_times  When does each stage of setting up begin, counted backwards from the first star?
"""
