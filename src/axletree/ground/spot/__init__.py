"""Which place in the yard is the best for the tripod?

Modules:
  around      What is lost a step away from the best place, and what stands in the way elsewhere?
  best        From a kit and a night to the best place for the tripod, with all that explains it.
  directions  What does the evening want from a place: which directions must be free, and when?
  grid        Which place in the yard is the best for the tripod, and what is lost a step away?
"""
