"""How is a kit told, asked for and drawn?

Modules:
  data            What does a program get to know about a kit file? Problems by kind, line and key;
                  guesses.
  dimension_text  In which words is one dimension of the rig named, with its value and error?
  drawing         Which length does each number of the kit mean? The rig from the east, with its
                  measures.
  drawing_text    Which words stand in the drawing of a kit's measures?
  measure_data    What does a program get to know about what to measure first?
  measure_text    In which words is it told what to measure first?
  mounts_drawing  Which of these mounts is yours, by its look? The three sizes beside a person.
  plate_data      Where in the drawing of a kit does each of its parts sit?
  questions_text  What does each key of the kit ask the person, in plain words, and in which unit?
  slips_text      In which line is something told that was hardly meant?
  tape_drawing    Where does the tape go? The rig with one dimension: a line with ticks at its ends.
  tape_text       In which words is it told where the tape goes for one dimension?
  text            In which sentences is a kit file told: what is wrong, what is guessed, what
                  was written?
"""
