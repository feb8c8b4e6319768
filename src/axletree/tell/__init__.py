"""What is told: each stage as text, data and drawing; paper, field sheet, calendar file, handbook.

Rooms, each with its modules at the head of its `__init__`:
  balance      How are balance and tipping told?
  calendar     How is the choice of a night told?
  check        How is the axis error told?
  enough       How is 'good enough' told?
  evening      How is the run sheet told: in a terminal, as a drawing, in a calendar?
  eyepiece     How is told what Moon, planets and double stars show at the eyepiece?
  field_sheet  How does the whole evening become one file for a phone without a signal?
  find         How is told where an object is found, and what shows on the way?
  follow       How is following told?
  handbook     How do the handbook's pages read on a screen?
  kit          How is a kit drawn?
  learned      How is it told what notes of gaps taught of the rig?
  level        How is levelling told?
  log          How is the record told: evenings, entries, what was found, what the bolts taught?
  logbook      In which words is told what the logbook brings?
  north        How is the way to true north told?
  objects      How is the list of objects told?
  orbit        How is told what is doubtful about a comet or a minor planet?
  paper        How is the run sheet printed?
  photographs  How is it told which lengths pictures of the rig tell?
  place        How is told which places have a name?
  point        How are both tube sides of one object told?
  pole         How is the way to the pole told?
  rehearse     How is a rehearsed evening told?
  room         How is the room of both tube sides told?
  satellites   How is told when visitors can look up for a satellite?
  sayings      What may be said to visitors of the best known objects?
  seeing       How is told how well an object shows, and under what sky?
  set_up       How is setting up for an evening told, stage by stage?
  shared       What do all tellings share: words for figures, paragraphs, the sheet that is drawn
               on, files?
  side         How is one tube side told: its room's end, its cautions, why it is the better one?
  skyline      How is it told what was taken for granted of a skyline?
  special      How is a special night told: an eclipse, a meeting, meteors?
  spot         How is the best place for the tripod told?
  stop         How are a stop, the order and what got no stop told?
  teach        How is it shown why one axis undoes the Earth's turn?
  where        How is told where an object stands?

Modules:
  schemas      Which form has each stage's JSON? One JSON Schema a stage, published under
               docs/schemas.
"""
