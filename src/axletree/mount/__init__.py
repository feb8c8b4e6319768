"""The machine: what each part of the rig does when the axes turn.

Modules and public functions:
  parts       Rig: every part as a rod in its frame, with its mass
  rig         build_rig, turned, eye_at: the rig of a kit, balanced
  check       check_rig: a rig that can work, or one line that says why not
  kinematics  Axes, align, axis_angles, pointing, direction, frames, placed: both tube sides
  rods        distances between rods: round ends, flat ends, a plane
  clearance   bodies, least_distance, distances: what comes nearest to what
  clearance_map  clearance_map: the same for every half degree of both axes, quickly
  map_lookup     looked_up: the map read where the sky stands, the axis leaning or not
  arcs        find_arcs, look: where on the way round something begins to be in the way
  room        room_table, room: how long each tube side can follow, and what ends it
  reach       reach, stretches, shares: room over the whole sky
  eyepiece    eye_place: height, direction to face, tilt, what can fall
  ring_turn   ring_turn: the turn of tube or diagonal that serves a list best
  picture     picture: how the sky stands in the eyepiece, and which way it drifts
  paths       best_path: what a turn from one pose to another passes through
  better_side better_side: which of two sides, in a sentence
  choice      choose: both tube sides of one object, and the better one with its reason
  masses      what weighs how much, and where, in the two moving frames
  weights     loadings: which of the owned weights go on the shaft, and where
  balance     solve -> Balance, swaps, torques_nm: both axes in three dimensions
  trim        the crosswise part and how to take it away; how certain a placement is
  scale_reading  correct: what a luggage scale at a known distance asks for
  support     margins, pushes and pulls of anything that stands on three feet
  tipping     tipping, half_built: how firmly the rig stands in every pose
  steadier    remedies: what makes it harder to push over, and by how much
  balanced    balance_report: all of these for one kit
  gearing     hour_knob, declination_knob, longest_exposure_s: worms, directions, backlash
  rates       object_rates, refracted_rate, drive_choices: what the hour axis has to do
  nudge       eyepiece_follow, camera_follow: how often, how far, how long
  altaz_rates what an alt-azimuth mount would have to do instead
  following   follow_report: all of these for one object

Import the modules themselves; this package loads nothing by itself.
"""
