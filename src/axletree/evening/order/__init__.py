"""What is there to put in order, and what does it cost to go from one stop to the next?

Modules:
  candidates      What is to be ordered, the objects that could be shown and the time there is;
                  what is an order?
  moving          What does it cost to go from one stop to the next?
  problem         How do targets, openings and breaks become whole numbers that a solver can turn
                  over?
"""
