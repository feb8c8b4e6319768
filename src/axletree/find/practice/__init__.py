"""What makes finding go well before anything is looked for?

Modules:
  applied       Which chances have turns and hop for this very person?
  finder_match  How is the finder set to look where the tube looks: how well, on what?
  learned       How does this person find: how often do turns and hops lead there, how soon?
"""
