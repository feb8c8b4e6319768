"""The record: what was seen, what was skipped, how far the axis was off, which bolt was turned.

Modules and public functions:
  schema    the tables and how an older logbook is brought up to date
  earlier   how an older logbook is kept as it was, beside it
  store     Logbook: open, begin an evening, write each thing down for good
  fit       why_unfit: dates, numbers and text that the record takes
  entries   evening_record, add_entry, begin_evening, learned_of_bolts: typed requests, answers
  read      evenings, an evening whole, search, what was seen lately
  exchange  the whole logbook as JSON or CSV, and back without loss
  learned   what the record teaches: true turns per degree of the bolts
  found     How did this person find, with this rig?
  lines     append-only JSON lines, for a folder without a logbook
  axis_notes    a measurement of the axis or a turn of the bolts, noted in both; what was moved;
                how near parts came
  state     what the notes of one rig say of its mount: PointingModel with from when it is
"""
