"""The polar axis: where it should point, where it does point, and how to move it there.

Modules and public functions:
  bolts      BoltMoves, bolt_moves, head_turns_deg: from an axis error to turns of the bolts
  target     PoleTarget, pole_target, PoleStar, pole_star, ring_year: the point to aim at
  scale      ScaleSetting, scale_setting, high_from_reading_arcmin: the altitude scale
  near       guide_stars, around_pole_star, short_name: which stars show the way
  sight      Sight, sight_of, limit_through: polar scope, hollow axis or bare eye
  picture    in_picture, clock_hour, plane_arcmin: erect, turned or mirrored, twelve at the top
  view       PoleView, pole_view: the sky around the pole as it looks through this polar scope
  bore       Bore, bore_of: looking through a hollow axis
  visible    StarTonight, star_tonight: when the pole star comes out, and what hides it
  blind      BlindPath, blind_path: setting up without a view of the pole, and its error
  movement   in_tube, declination_drift_arcsec, field_rotation_deg: what an axis error does
  tolerance  Tolerance, eye_tolerance, camera_tolerance: the largest error that doesn't matter
  methods    Method, methods, quickest: what each way of aligning delivers, and if it is enough

Measuring the axis error:
  drift      axis error from the drift of stars in declination
  readings   axis error and the mount's own faults from circle readings
  frames     axis error from camera frames taken while the hour axis turns
  turn       the centre of a turn of the hour axis
  combine    all measurements together
  next_star  which measurement would tell most

`high` and `east` are great-circle arcminutes of the axis above and east of the pole.
"""
