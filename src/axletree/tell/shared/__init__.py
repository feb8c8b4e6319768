"""What do all tellings share: words for figures, paragraphs, the sheet that is drawn on, files?

Modules:
  files         How is a file written so that nobody ever finds half of it?
  guessed       Which dimensions that something can touch did nobody measure?
  measure       How much room do words take, and how many of them fit?
  paragraphs    How do sentences and short tables fit into 80 columns?
  rig_data      What does a page need to draw the rig in space by itself?
  rig_side      How does the rig stand in one pose, seen from one side? One square drawing for a
                small screen.
  rods_drawing  How does a rod look from one side? Outlines of capsules and cylinders, true to
                scale.
  rods_text     In which words is told from where the rig is seen in a drawing?
  sheet         With which paper and pen is everything drawn?
  skyline_data  Where is the skyline unknown, for programs?
  text          In which sentences is told what every stage may have to say: of the Earth's
                rotation?
  typeface      How does the typeface go along with a file that leaves the house alone?
  words         How are hours, degrees, clock times and lengths written for people?
"""
