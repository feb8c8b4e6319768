"""What is there to choose from?

Modules:
  candidates   Which objects are there to choose from?
  catalogues   Which of them do the catalogues hold?
  own          Which does the person bring?
  places       Where do they stand through the evening?
  well_known   Which does everybody want to see?
"""
