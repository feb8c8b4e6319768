"""How long does each part of an evening take this host?

Modules:
  pace  How long do finding, looking and talking take this host with these people?
  turn  When is somebody's turn at the eyepiece likely, with so many people before them?
"""
