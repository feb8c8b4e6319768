"""What did the person write down? Rows of measurements, each mistake named by its line.

Modules:
  columns        Which columns may a file of measurements have?
  drift_file     What do the rows of a drift file say: which star, how long, how far, which way?
  reading        Which star is a row about, and when was it looked at?
  readings_file  What do the rows of a circle-reading file say: which star, which side, what the
                 circles show?
"""
