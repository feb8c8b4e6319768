"""Of which parts is an evening's document made?

Modules:
  document_part  Of what is each part of the evening's document made: frozen, nothing unknown in it?
  finding_facts  How is the way to a stop's object written into the document?
  set_up_facts   How are the night and the setting up written down?
  stop_facts     How is one stop written into the document, with where everything stands and what
                 shows?
"""
