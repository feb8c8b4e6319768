"""The machine: what each part of the rig does when the axes turn.

Rooms, each with its modules at the head of its `__init__`:
  balance     Where do weights and tube go so that neither axis turns by itself?
  clearance   What comes nearest to what, in a pose and on the way to it?
  dimensions  What measures how much on this rig, how surely, and what if it measured more?
  follow      Which knob, which way, how fast; which rate; how long is an object held?
  learned     What do touches and gaps that were noted say of the rig's dimensions?
  photographed  What do pictures of the rig say of its dimensions, points marked on named places?
  rig         Of which parts is the rig made, and where does each stand when the axes turn?
  room        How long can an object be followed on each tube side, and which side is better?
  sure        How sure is a room, from what is known of the rig's dimensions?
  steady      What tips, swings or can be pushed over, and what helps?
"""
