"""The ground: where the tripod stands, which way is north, and is it level?

magnetism      magnetic_field -> MagneticField: declination, its uncertainty, zone, validity
skyline        Horizon; horizon_from_points, horizon_from_walk, open_horizon, combined
skyline_file   site_horizon: the skyline of a kit's site, its points and its CSV file
obstacles      upper edges of walls, posts and crowns from many places in many directions
yard           yard_plan -> YardPlan; skyline_tangents, yard_horizon, blockers
wishes         wishes_of -> Wishes: what the evening wants from a place; axes_height_m
spot           score_places -> SpotScores: the best place for the tripod
around         loss_around, what_blocks, nearest_miss: a step away, and what stands in the way
spot_answer    best_spot -> SpotAnswer: from a kit and a night to the place, with its reasons
landmark       direction_to -> Bearing: azimuth and error from two positions on the ellipsoid
pointers       Hands, Pointer: how exactly a shadow or a sighted body points at a moment
passages       body_passages, star_passages: when things stand exactly on the meridian
way            Way, Closed: one way of finding north; ranked
ways_by_day    the Sun's and the Moon's ways
ways_by_night  the bright stars' and the pole star's ways
north          find_north -> North: every way here and now, ranked by expected error
level          tilt_from_bubble, tilt_from_inclines -> Tilt; leg_changes -> LegChanges
leftover       leftover -> Leftover: what a tilt that remains does to scale and bolts

Import the modules themselves; this package loads nothing by itself.
"""
