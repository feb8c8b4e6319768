"""Which objects are worth a stop?

Modules:
  choosing     Which objects are worth a stop tonight, and why?
  facts        What is worth telling of an object's looks: size, light, colour, how far apart, phase
               and rings?
  kinds        Which kinds of objects do people's words mean?
  light_wanted Is the sky dark enough for each object at each instant?
  listing      What can this telescope show from this spot, filtered and ranked, with the reason for
               each?
  looks        What is known of the looks of some objects: how bright, how large, of which kind?
  not_offered  Why is an object that people would expect not offered?
  requested    What has the person asked for by name: what must be seen, and what is left out?
  tonight      What has the sky on each object in these hours, and how many points is that?
  twins        Which entries of the catalogues are the same object: a double that is also a red
               star?
  up           What is up to be pointed at now: the Moon, planets, and what anybody should see once?
  varied_again How do the objects differ from better ones of their theme that can be shown?
  worth        How many points is a stop worth to this audience?
"""
