"""How does one kit and one date become the whole evening, and how does it go on?

Modules:
  elsewhere       How does an evening read for a place nearby, with its stops and times as they were
                  planned?
  finish          How do an order and the answers for setting up become the document of the evening?
  going_on        How does a planned evening go on from now, after what has happened?
  plan            How does one kit and one date become the whole evening?
  rotation_words  In which sentences is told what may be wrong with the Earth's rotation?
  set_up          What do the hands need before the first object: north, balance, pole, follow?
  set_up_words    In which sentences are the answers of the set-up told?
  tables          What must a phone know to follow the night by itself, with no signal and no second
                  thought?
  tables_data     How do the phone's tables look as plain data: short, rounded no more than the eye
                  could tell?
"""
