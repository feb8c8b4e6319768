"""Drawings as SVG text, one function a drawing; used by pages, paper and field sheet alike.

Modules and public functions:
  sheet      Sheet: paper, pen, scales and escaped text, shared by all drawings
  pole_view  pole_view_svg: where the pole star goes in the polar scope
  tolerance_view  tolerance_svg: which alignment is good enough
  rig_views  rig_views, choice_views: the rig from the side, from behind and from above
  rods_view  outline, side_views: rods as seen from one side
  room_map   room_map: where each tube side can follow, and for how long
  balance_view    balance_view: weights, tube and its cross-section, to scale
  tipping_view    tipping_view: the feet from above and the push that tips the rig
  spot_map        spot_map: the yard from above, its best place, the skyline there
  skyline_view    skyline_view, spot_skyline, draw_skyline: a skyline as a strip, with the pole
  north_view      north_view: the ring of azimuths with every way to the pole
  level_view      level_view: the tripod from above, millimetres at each leg
  axis_ellipse    axis_ellipse: where the axis points, how well that is known, is it enough
  follow_view     follow_view: each eyepiece's field, the object's way, where a nudge is due
  evening_view    evening_view: the evening as lines of time, one a stop
  latitude_view   latitude_view: the globe, and mounts parallel to its axis
"""
