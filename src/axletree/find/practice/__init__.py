"""What makes finding go well before anything is looked for?

Modules:
  along_axis    How is the pole seen through the tube that looks along the polar axis, and can the
                axis swing?
  applied       Which chances have turns and hop for this very person?
  finder_match  How is the finder set to look where the tube looks: how well, on what?
  learned       How does this person find: how often do turns and hops lead there, how soon?
  rig_work      How long do setting up and taking down take this person, by what they noted?
  through_tube  How is the axis set on the pole through the tube, by the point that stands still in
                its field?
"""
