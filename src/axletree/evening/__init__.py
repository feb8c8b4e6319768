"""What to show and when: objects, visibility, order, calendar, the run sheet.

Rooms, each with its modules at the head of its `__init__`:
  brought      What did the person bring along: lists of their own, orbits, satellites?
  event        What does each telescope of one event show, and when?
  hosting      How long does each part of an evening take this host?
  night        How dark does this night get, and when does each stage of setting up begin?
  objects      Which objects are worth a stop?
  offered      What is there to choose from?
  order        What is there to put in order, and what does it cost to go from one stop to the next?
  people       What do the people of an evening bring: children who leave early, what they saw
               before?
  search       Which order is a good one, and how good could any order be?
  seeing       How well does an object show, through which eyepiece, under this sky?
  sequence     In which order are the objects shown, so that people like it, and from now on?
  sheet        How does one kit and one date become the whole evening, and how does it go on?
  special      What does the sky have on an evening, for this kit at its place?
  stops        From when to when can an object be shown, and what do the hands need at its stop?
  year         Which night of a year is worth most, for an object or for the audience?

Modules:
  given_up     Which objects get no stop, and why?
  ground_here  What does the spot give an evening: its skyline, and the rig's room under it?
"""
