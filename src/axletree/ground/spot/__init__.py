"""Which place in the yard is the best for the tripod?

Modules:
  around      What is lost a step away from the best place, and what stands in the way elsewhere?
  directions  Which directions must be free for the evening, and when?
  grid        Which place in the yard is the best for the tripod, and what is lost a step away?
"""
