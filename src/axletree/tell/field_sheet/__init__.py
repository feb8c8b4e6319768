"""How does the whole evening become one file for a phone without a signal?

Modules:
  field_sheet  How does the whole evening become one file for a phone without a signal?
  words        How does the evening read on a phone where nothing but words is shown?
"""
