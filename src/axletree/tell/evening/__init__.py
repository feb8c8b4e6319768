"""How is an evening told: as text, as a document, as a drawing, as calendar entries?

Modules:
  calendar_file       How does the evening get into an ordinary calendar, with alarms for what must
                      not be missed?
  calendar_file_text  In which sentences does the evening stand in an ordinary calendar?
  circles_text        In which words does the sheet tell whose circles it gives?
  data                How does the evening's typed answer become its document?
  document            What is an evening, written down? One immutable document that everything is
                      drawn from.
  drawing             How does the evening run? One line of time for each stop, in their order.
  event               How is an event of several telescopes told?
  go_on               How is told what a change makes of the rest of the evening?
  notes               How are the evening's notes told: night, cautions, what was assumed?
  older_sheet         How is a run sheet of an earlier version read?
  parts               Of which parts is an evening's document made?
  progress_text       In which words is told what of a plan begins, while somebody waits for it?
  stop_data           How do the stops' typed answers become their part of the document?
  text                How is the run sheet read in a terminal? Eighty columns, one answer first,
                      then the reasons.
"""
