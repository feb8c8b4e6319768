"""What the person owns and where they stand.

Modules and public functions:
  errors     AxletreeError, the one line that a person reads when something is wrong
  part       base model of all parts, number types
  site       Site, Skyline, Yard with its posts, walls, trees and roofs
  mount      Mount, Tripod, Head, Weight, Gears, Bolts, PolarScope, Travel, Motor
  tube       Tube, Finder, Accessory, Eyepiece, Barlow, Camera
  habits     Habits, Break
  job        JOB, SET_UP: the order in which the hands work
  defaults   mount_defaults, tube_defaults, fill: dimensions that stand in for unmeasured ones
  prepare    completed, locate: place, zone and guessed dimensions filled in
  problems   Problem, say: a mistake in one line, with what would be right
  oddities   oddities, why_no_text: what no model notices, a yes for a number, text for a terminal
  beside     beside: the files that a kit may name
  lines      key_lines, line_of: where a key stands in the file
  kit        Kit, Problem, check_text, load_kit, demo_kit, demo_text
  new        new_kit_text: a commented kit to start from
  places     find_places, parse_location, locate, time_zone_at: places without a network
"""
