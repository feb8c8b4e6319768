"""Which way is the elevated pole, by every method that works here and now?

Modules:
  by_day    How do the Sun and the Moon lead to north, now and when they next cross the meridian?
  by_night  How do the bright stars and the pole star lead to north, now or when it gets dark?
  landmark  In which direction does a landmark stand, when both positions are known?
  method    What is one method of finding north, and how are several ranked?
  methods   By which methods is the elevated pole's direction found, here and now?
  passages  When does something next stand exactly on the meridian, and how fast does it cross?
  pointers  How exactly do a shadow, a star or the Moon lead to north at one moment?
"""
