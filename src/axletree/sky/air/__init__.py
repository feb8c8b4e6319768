"""What does the air do to light: how far is it bent, how much is lost, how bright does it glow?

Modules:
  brightness  How bright is the sky behind an object, and how much light does the air take?
  quick       How do the quick tables turn local directions into what is seen through the air?
  refraction  How much does the air lift things, and through how much of it does the light come?
  spread      How well is refraction known, given what is known of the air?
"""
