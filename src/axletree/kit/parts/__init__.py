"""What does a kit consist of, and what stands in for values that are not given?

Modules:
  assumed    Which values does a silent kit take from the models' own defaults, and so has guessed?
  circles    How are the mount's setting circles marked, how do they sit, and how well are they
             read?
  defaults   Which dimensions stand in for those the person has not measured?
  dimension  Which keys of a kit are dimensions, and how well is one known that was read off?
  habits     How does the person observe, and for whom?
  mount      What is the mount made of? Lengths of its parts, gears, bolts and limits.
  part       What do all parts of a kit have in common?
  site       Where does the person stand, and what stands around them?
  spreads    How far from the truth may a guess lie, and why?
  tube       What hangs on the mount? The tube, what sits on it, and what the eye or camera looks
             through.
"""
