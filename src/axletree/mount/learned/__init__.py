"""What do touches and gaps that were noted say of the rig's dimensions?

Modules:
  agreeing   Which rigs agree with the notes, and where do they lie?
  expected   How near would the parts be in the poses of notes, on a rig with other dimensions?
  learn      What does the kit look like after its notes of gaps, and how surely is that known?
  misfit     Which note doesn't fit the others and the kit, and what may be wrong with it?
  narrow     Which dimensions make notes of gaps most likely, and what do they leave open?
  numbers    Which unknown numbers do notes of several evenings have in common?
  record     How is a gap kept as a line of the notes, and read back?
"""
