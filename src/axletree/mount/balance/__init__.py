"""Where do weights and tube go so that neither axis turns by itself?

Modules:
  masses         What weighs how much on this rig, and where does it sit?
  positions      Where do tube and weights go so that neither axis turns by itself?
  scale_reading  What does a luggage scale say about the balance, when nobody knows the masses?
  trim           What is left over crosswise, and how well is the answer known?
  weights        Which of the owned weights go on the shaft, and where?
"""
