"""What is known about the axis, by which fit, with which doubts?

Modules:
  candidates     Which bright stars with names stand well for a measurement now?
  combine        What do all measurements since the last turn of a bolt say together?
  doubt          What is doubtful in a measurement of the axis: which rows, how badly, and what
                 might explain it?
  estimate       What is known about the polar axis, and how well?
  least_squares  Which values fit the measurements best, which of them do the measurements fix, and
                 how well?
  outliers       Which one of several measurements contradicts all the others, if exactly one does?
  record         Which measurements of tonight count, and which came before a bolt was turned?
"""
