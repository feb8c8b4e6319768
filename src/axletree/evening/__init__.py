"""What to show and when: objects, visibility, order, calendar, the run sheet.

Modules and public functions:
  document         Evening, the one immutable document; json_schema, evening_json, read_evening
  night            night_of: the darkness, the Moon, when the pole star shows
  setup            north, pole, balance and follow answers for the document
  stages           stages_of: set-up times, backwards from darkness
  plan             plan_evening: kit and date in, Evening out
  finish           from order and set-up answers to the document
  elsewhere        the same evening as it reads for a place nearby
  stops            the facts of each stop: side, room, eyepiece, nudge, warnings
  contrast         the eye's threshold through the telescope
  visibility       how well an object can be seen, as a margin and a word
  light_inside     how the light of galaxies and clusters gathers inwards
  asked            what the person asked for by name
  worth            how many points a stop is worth to this audience
  choosing         which objects are worth a stop tonight, with reasons
  listing          everything that shows, filtered and ranked (axletree objects)
  kinds            which kinds of objects people's words mean
  eyepiece_choice  which eyepiece shows an object best
  own_objects      the person's own list from a CSV file
  showing          what could be shown when, and the stops of an order with their facts
  order            the order of the stops, with its proof or its gap
  moving           what it costs to go from one stop to the next
  puzzle           wishes, openings and breaks as whole numbers for the methods
  order_exact      short lists: the best order, proven
  order_quick      any list: a good order in a fraction of a second
  order_bound      what no order can exceed, often the proof
  order_solver     OR-tools improves the order of a long evening
  solver_library   OR-tools, or one sentence where it can't be loaded
  older_sheet      run sheets of earlier versions as today's
  order_reasons    why an object was left out
  given_order      times and tube sides for the order that the person fixes
  replan           a new order from now on
  going_on         go_on: the rest of a planned evening, after what has happened
  tables           night_tables: what a phone must know to follow the night by itself
  tables_data      the tables as short, plain data
  room_ahead       when each tube side serves an object, to the true end of its room
  nights_scored    every night of a year scored for this spot, rig and audience
  best_nights      when in the year one object is best here
  share            one event's objects shared among several telescopes
"""
