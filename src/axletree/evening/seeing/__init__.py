"""How well does an object show, through which eyepiece, under this sky?

Modules:
  eyepiece        Which eyepiece shows an object best?
  grades          How well does an object show to a visitor, in a word, from its margin above the
                  threshold?
  light_profile   How does the light of a galaxy, a cluster or a nebula gather towards its middle?
  line_filters    What does a line filter leave of a nebula's light, and what of the sky's?
  moonlight       How clearly would the objects show on the same night without the Moon?
  own_eyepiece    How well does each object show through the one eyepiece that is meant for it?
  shows_from      From when on does an object show, where the sky is still too light for it?
  pairs           When does a double star show as two?
  sky_brightness  How bright is the sky behind each object through the evening, and how much does
                  the air take?
  trusted         Which of a catalogue's magnitudes is to be trusted?
  visibility      How well can an object be seen: by how many magnitudes, through which eyepiece?
"""
