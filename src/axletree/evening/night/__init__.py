"""How dark does this night get, and when does each stage of setting up begin?

Modules:
  damp          Will the glass dew over or freeze tonight?
  darkness      How dark does this night get, when does the pole star show, and what does the Moon
                do?
  first_light   From when to when can something be shown, and does the first stop wait for the pole
                star?
  session_grid  At which instants of a session is it asked what shows, and what does that say
                between them?
  set_up_pace   How long does setting up take this person with this rig?
  set_up_times  When does each stage of setting up begin, counted backwards from the first stop?
"""
