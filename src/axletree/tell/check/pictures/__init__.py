"""How is told what was recognised in plain pictures?

Modules:
  drawing     What was recognised in a picture: stars, pole, axis, and the way of the bolts?
  negative    How is a picture of the night laid on paper? Small, stretched, dark for light.
  text        In which words are recognised pictures told?
  watch_text  In which words is told where the axis points while bolts are turned?
"""
