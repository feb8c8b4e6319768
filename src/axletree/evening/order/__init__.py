"""In which order are the objects shown?

Modules:
  best            In which order are the objects shown?
  bound           How good could any order be?
  candidates      What is to be ordered, the objects that could be shown and the time there is; what
                  is an order?
  exact           What is the very best order of a short list?
  for_people      How is the best order by points made one that people like: fewer long waits, a
                  splendid end?
  given           When does each stop come, and on which side, if the person fixes the order?
  left_out        Why was an object left out?
  moving          What does it cost to go from one stop to the next?
  problem         How do targets, openings and breaks become whole numbers that a solver can turn
                  over?
  quick           What is a good order of any list, in a fraction of a second?
  replan          What is the order from now on, after clouds, a late start, a skip or ten minutes
                  more?
  solver          How much better can an order be made in a few seconds, and how good is it then?
  solver_library  Is the library of solvers there, and what is said where it isn't?
"""
