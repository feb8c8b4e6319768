"""What measures how much on this rig, how surely, and what if it measured more?

Modules:
  changed    What does the kit look like with other dimensions?
  names      Which dimensions has this rig, and what does each measure?
  of_kit     What measures how much on this rig, where is that known from, and how surely?
  propagate  How far may an answer be off because dimensions of the kit were guessed?
  tube       How does a guess about the tube follow what it was made from?
"""
