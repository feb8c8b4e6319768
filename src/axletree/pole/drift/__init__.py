"""How far is the axis off, from the drift of stars?

Modules:
  explain  Stars that disagree: which single mistake would make them agree, and is there only one
           such?
  solve    How far is the axis off, from the drift of stars in declination?
"""
