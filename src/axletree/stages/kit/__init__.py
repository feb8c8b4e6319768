"""What is answered about a place and a kit?

Modules:
  kit_check  Is this kit file right, and which of its values are guessed?
  place      Which places on the Earth have this name, or these coordinates?
"""
