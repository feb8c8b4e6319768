"""How does one kit and one date become the whole evening, and how does it go on?

Modules:
  answer      What is an evening, in figures? One frozen answer from which everything is told.
  brought_back  Which dimensions, measured, would let in again what is left out since something
              may touch?
  chances     What else could be shown and when first, and what has to be set for the side not
              planned?
  elsewhere   How does an evening read for a place nearby, with its stops and times as they were
              planned?
  going_on    How does a planned evening go on from now, after what has happened?
  plan        How does one kit and one date become the whole evening?
  set_up      What do the hands need before the first object: north, balance, pole, follow?
  sure_order  Which order keeps it improbable that anything touches, and what is lost by that?
  sure_rooms  How sure is the room of each stop?
  tables      What must a phone know to follow the night by itself, with no signal and no second
              thought?
"""
