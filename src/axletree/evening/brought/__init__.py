"""What did the person bring along: lists of their own, orbits, satellites?

Modules:
  brought      Which objects come from the kit's own files, as they stand at a moment?
  elements     Which comets and minor planets do the kit's files of elements hold?
  named        Which object does a name mean: the catalogues', or one that was brought along?
  own_objects  Which objects of the person's own should be thought of: comets, favourites, a list
               from a paper?
  satellites   Which satellites do the kit's files of two-line elements hold, and how old are they?
"""
