"""The machine: what each part of the rig does when the axes turn.

Modules and public functions:
  load        shaft_load: which weights go on the shaft, and where
  parts       build_rig -> Rig: every part as a rod in its frame, with its mass
  kinematics  Axes, align, axis_angles, pointing, direction, frames, placed: both tube sides
  rods        distances between rods: round ends, flat ends, a plane
  clearance   least_distance, clearance_map: what comes nearest to what
  room        how long an object can be followed on each tube side, and what ends it
  eyepiece    height, direction to face, tilt, what can fall, and the best ring turn
  picture     how the sky stands in the eyepiece, and which way it drifts
  paths       what a turn from one pose to another passes through
  choice      both tube sides of one object, and the better one with its reason
  rig         checked_rig: a rig that can work, or one line that says why not
  balance, tipping, gearing: torque, stability, knobs and motors

Import the modules themselves; this package loads nothing by itself.
"""
