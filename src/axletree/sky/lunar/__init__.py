"""What does the Moon's face show: how far has it nodded, where is the light, what stands in it?

Modules, with what others call:
  features  Which features of the Moon are shown, and where do they lie? `moon_features`
  light     How high does the Sun stand over each feature, and which stand best? `best_lit`
  nodding   Which point of the Moon faces the observer, which the Sun? `moon_face`
  turn      How is the Moon turned in space? `to_mean_earth_axes`
"""
