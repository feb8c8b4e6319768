"""What tips, swings or can be pushed over, and what helps?

Modules:
  steadier  What makes a rig harder to push over, and by how much?
  support   When does something that stands on three feet fall over?
  swing     What does an axis do when its lock is opened: where does it turn, how fast, where does
            it rest?
  tipping   Can this rig tip over, or be pushed over, in any pose or while it is being put up?
"""
