"""In which order are the objects shown, so that people like it, and from now on?

Modules:
  best            In which order are the objects shown?
  for_people      How is the best order by points made one that people like: fewer long waits, a
                  splendid end?
  given           When does each stop come, and on which side, if the person fixes the order?
  left_out        Why was an object left out?
  replan          What is the order from now on, after clouds, a late start, a skip or ten minutes
                  more?
"""
