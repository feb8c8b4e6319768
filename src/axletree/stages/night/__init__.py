"""What is shown, and on which night?

Modules:
  best_nights  When in the year is an object best here? A name and a span of nights in, every night
               out.
  calendar     Which night? A span of nights and of weekdays in, every night's score and the best
               ones out.
  evening      What is shown tonight, when, in which order? One date in, the whole evening out.
  objects      What can be shown tonight? Kinds and hours in; the objects that show out, ranked with
               reasons.
  rehearsal    What do the hands do all evening, step by step: the rig built, its axis set, every
               turn made?
  rehearsed_turns  How do the axes turn from one pose to the next, one lock after the other?
  rig_built    In which order do the parts of a rig come together?
"""
