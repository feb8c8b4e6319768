"""The polar axis: where it should point, where it does point, and how to move it there.

Modules and public functions:
  bolts      BoltMoves, bolt_moves, head_turns_deg: from an axis error to turns of the bolts
  target     PoleTarget, pole_target, PoleStar, pole_star, ring_year: the point to aim at
  scale      ScaleSetting, scale_setting, high_from_reading_arcmin: the altitude scale
  near       guide_stars, around_pole_star, short_name: which stars show the way
  sight      Sight, sight_of, limit_through: polar scope, hollow axis or bare eye
  picture    in_picture, clock_hour, plane_arcmin: erect, turned or mirrored, twelve at the top
  view       PoleView, pole_view, star_places: the sky around the pole in this polar scope
  bore       Bore, bore_of: looking through a hollow axis
  visible    StarTonight, star_tonight: when the pole star comes out, and what hides it
  blind      BlindPath, blind_path: setting up without a view of the pole, and its error
  movement   in_tube, declination_drift_arcsec, field_rotation_deg: what an axis error does
  tolerance  Tolerance, eye_tolerance, camera_tolerance: the largest error that doesn't matter
  methods    Method, methods, quickest: what each way of aligning delivers, and if it is enough
  need       EyeUse, CameraUse, Need, need_of: what the person will do, and how good is enough
  report     AxisSays, PoleReport, pole_report: everything about the pole in one answer

Measuring the axis error:
  drift, drift_file          from the drift of stars in declination
  readings, readings_file    axis error and the mount's own faults from circle readings
  readings_model, readings_suspects    their unknowns and settings, and what doesn't fit
  circles, mount_frame       what the circles of an imperfect mount show
  frames, frame_file         from camera frames taken while the hour axis turns
  wcs, distortion, plate, fits_header, attitude    where a frame looks, by its own header
  candidates, next_star, advice    which measurement would tell most
  turn       what a star does in the eyepiece while the bolts are turned, and after
  combine, measured, estimate, least_squares    all measurements together, with uncertainties
  rows, columns              files of plain columns, each mistake named by its line

`high` and `east` are great-circle arcminutes of the axis above and east of the pole.
"""
