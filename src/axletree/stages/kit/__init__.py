"""What is answered about a place and a kit?

Modules:
  kit_check  Is this kit file right, and which of its values are guessed?
  measure    What is to be measured first, and what is known of it now?
  photographs  Which lengths do pictures of the rig tell?
  slips      What in this kit is possible but was hardly meant?
  place      Which places on the Earth have this name, or these coordinates?
"""
