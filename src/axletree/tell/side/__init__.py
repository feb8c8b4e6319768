"""How is one tube side told: its room's end, its cautions, why it is the better one?

Modules:
  doubt_data  What does a program get to know about how sure a room is?
  doubt_text  In which sentences is it told how sure a room is, when something may touch, and what
              measured would tell?
  text        In which sentences is a tube side told: what ends its room, what to beware of, why it
              is better?
"""
