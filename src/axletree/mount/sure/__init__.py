"""How sure is a room, from what is known of the rig's dimensions?

Modules:
  measure_first  Which few dimensions, measured, make the rooms of many objects surer, and by how
                 much?
  nearness       How near are two parts in a pose, and how does that change with each dimension of
                 the rig?
  rigs_drawn     How near are two parts of each rig drawn, in a pose?
  passage        When do two parts first come nearer than a limit, over all the rigs that this one
                 may be?
  room_doubt     How sure is the end of a room, from when on may something touch, and what measured
                 would tell?
  shapes         How does every part of a rig move when one of its dimensions changes?
  side_doubt     How probable is it that the other tube side is the better one?
  spread         Which rigs may this one be, given what is known of its dimensions?
  touches        On which of the rigs that this one may be does something touch while objects are
                 followed?
"""
