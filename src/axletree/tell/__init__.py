"""The evening and its parts as text, JSON, paper, phone sheet and calendar file.

Modules and public functions:
  files      write_whole: a file is written whole or not at all
  words      hours, degrees, clock times and lengths as people read them
  pole_words, pole_data, enough_words    the way to the pole, and how good is good enough
  point_words, room_words    both tube sides of one object; where each side can follow
  paragraphs paragraph, listed, sections: sentences and lists in 80 columns
  spot_words, north_words, level_words   the place, true north and the legs, as text and data
  field_sheet   field_sheet: the evening as one file for a phone (field/ holds its parts)
  field_words   the same evening in plain words, for where no script runs
  calendar_file evening_ics: the evening for an ordinary calendar, with alarms
  check_findings, check_circles   what one measurement of the axis says
  check_words, check_report  the axis error as text; as data and drawing
"""
