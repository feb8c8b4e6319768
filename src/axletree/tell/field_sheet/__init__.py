"""How does the whole evening become one file for a phone without a signal?

Modules:
  field_sheet  How does the whole evening become one file for a phone without a signal?
  tables_data  How do the phone's tables look as plain data: short, rounded no more than the eye
               could tell?
  text         How does the evening read on a phone where nothing but words is shown?
"""
