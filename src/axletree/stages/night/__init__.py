"""What is shown, and on which night?

Modules:
  best_nights  When in the year is an object best here? A name and a span of nights in, every night
               out.
  calendar     Which night? A span of nights and of weekdays in, every night's score and the best
               ones out.
  evening      What is shown tonight, when, in which order? One date in, the whole evening out.
  objects      What can be shown tonight? Kinds and hours in; the objects that show out, ranked with
               reasons.
"""
