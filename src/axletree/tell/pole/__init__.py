"""How is the way to the pole told?

Modules:
  data     The answer about the pole for programs, and the short lines beside its drawing.
  drawing  Where does the pole star go? The view through the polar scope, drawn like an engraved
           dial.
  text     How is the way to the pole told: where the star goes, what to turn, what is in the way?
"""
