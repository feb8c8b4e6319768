"""Which words stand in a new kit file, and what of them is there for some kits only?"""

from __future__ import annotations

# Blocks that only some kits have. A remark that begins with a key may be put to use by taking
# its '#' away; the tests try each.
MOTOR = """
[mount.motor]
rates = ["sidereal"]               # and, if it has them: "solar", "lunar", "king"
# axes = "hour"                    # hour or both
# slew_deg_per_s = 2.5             # its fastest turn
# guided = true
"""
NEWTONIAN = """\
# obstruction_mm = 40              # the secondary mirror
# focuser_from_front_mm = 95
# focuser_reach_mm = 180           # the tube's axis to the eye
# focuser_mass_kg = 0.35           # of the mass, what stands to the side
# focuser_radius_mm = 32           # half its thickness
# ring_turn_deg = 0                # focuser around the tube: 0 away from the saddle, 90 right
# ring_turn_fixed = true           # where the tube can't turn in its rings
"""
WITH_DIAGONAL = """\
# obstruction_mm = {obstruction}               # the secondary mirror, 0 for a lens
# focuser_reach_mm = 65            # end of the tube to the diagonal
# focuser_radius_mm = 32           # half its thickness
# diagonal = "mirror"              # mirror, prism, erecting or none
# diagonal_angle_deg = 90          # 90 or 45
# diagonal_arm_mm = 85             # from the tube's axis to the eye
# ring_turn_deg = 0                # diagonal around the tube: 0 away from the saddle, 90 right
# dew_shield_length_mm = 90
"""
TUBE = {
    "newtonian": NEWTONIAN,
    "refractor": WITH_DIAGONAL.format(obstruction=0),
    "catadioptric": WITH_DIAGONAL.format(obstruction=45),
}
# Length and balance of an ordinary tube of the kind, as examples (common practice, no source).
TUBE_LENGTH = {"newtonian": (620, 370), "refractor": (620, 370), "catadioptric": (270, 130)}

EYEPIECE = """
[[eyepiece]]
focal_length_mm = {focal}
apparent_field_deg = 50
"""
BARLOW = """\
# [[barlow]]
# factor = 2
"""
AUDIENCE = """\
# audience = "family"              # alone, family, class or public
"""

SOMEWHERE = """\
latitude_deg = 51.4769       # north positive; yours is on any map
longitude_deg = 0.0005       # east positive
elevation_m = 47
time_zone = "Europe/London"  # an IANA name; left out, it follows from the place\
"""
THERE = """\
# from '{place}'
latitude_deg = {latitude}
longitude_deg = {longitude}
elevation_m = {elevation}
time_zone = "{zone}"\
"""
NO_HEIGHT = "              # not known: look at a map"

TEXT = """\
# A kit for Axletree: where you stand, what you own, how you observe.
# Five numbers are enough to begin: latitude and longitude, aperture and focal length of the
# tube, and the mount's size. Everything that starts with '#' may stay as it is; Axletree fills
# it in, and says in every answer which values it guessed. To give a value of your own, take the
# '#' away and write yours. 'axletree kit check FILE' checks.
# Lengths in mm (a yard in m), masses in kg, angles in degrees, as the names say. A plain number
# counts as read off, good to 2 mm or 2 %; where you know better, write the error beside it:
# {{ value = 345, error = 3 }}.

kit_version = 1
name = "{name}"

# WHERE YOU STAND ---------------------------------------------------------------------------

[site]
name = "{name}"
{where}
# place = "Évora"                  # instead of coordinates: a name, coordinates or a geo: URI
# sky_brightness_mag_arcsec2 = {sky}  # or naked_eye_limit_mag = 5.5
# seeing_arcsec = 2.5
# temperature_c = 10
# relative_humidity = 0.5
# pressure_hpa = 1000              # at the site, not reduced to sea level
# extinction_mag_per_airmass = 0.25

[site.skyline]
# What stands around you: [azimuth, altitude] in degrees from true north, joined by lines
# where neighbours stand at most 180 degrees apart; a wider gap is unknown, so measure in it.
# points = [[0, 10], [90, 15], [180, 5], [270, 20]]
# file = "skyline.csv"             # or from a file beside this one
# bearings = "magnetic"            # if a compass read them: Axletree corrects them
open_altitude_deg = 0

# THE MOUNT ---------------------------------------------------------------------------------

[mount]
# name = "garden mount"            # what you call it; left out: its size and how it is driven
size = "{size}"                  # small, middle or large: stands in for all that is not measured
motion = "{motion}"                  # hand or motor
# payload_limit_kg = 9

[mount.tripod]
# top_height_mm = 800              # ground to the top of the legs
# foot_radius_mm = 540             # middle to foot
# leg_directions_deg = [0, 120, 240]  # clockwise from the elevated pole's direction
# turned_deg = {{ value = 0, error = 2 }}  # how well you turn the tripod to the pole
# lean_to_pole_deg = {{ value = 0, error = 0.1 }}  # and level it, one way and the other
# lean_to_right_deg = {{ value = 0, error = 0.1 }}
# tray_load_kg = 0
# bubble_arcmin_per_division = 30  # the level: tilt for 2 mm of the bubble
# bubble_edge_divisions = 3        # divisions from the middle to its rim

[mount.head]
# saddle_distance_mm = 150         # crossing of the axes to the saddle
# shaft_length_mm = 330            # where weights can go

[mount.gears]
# hour_geared = false              # an axis without worm and knob is pushed by hand
# declination_geared = false
# hour_worm_teeth = 144
# declination_worm_teeth = 144
# hour_knob_ratio = 1              # knob turns for one turn of the worm
# hour_knob_clockwise = "west"     # looking at the knob, at your site: the way the tube goes
# declination_knob_clockwise = "north"  # on tube side east
# hour_backlash_deg = 20           # knob turn that moves nothing after a change of direction
# declination_arm = true           # a tangent arm instead of a full worm
# declination_arm_range_deg = 12
# declination_arm_deg_per_turn = 0.8
# periodic_error_arcsec = 20       # half of peak to peak

[mount.circles]
# hour_marks = "hour angle"        # or right ascension
# hour_circle = "slipped"          # by hand on its shaft; or driven with the sky, or fixed
# hour_division_min = 10           # from mark to mark
# declination_division_deg = 2
# read_division = 0.2              # how well you read it, in parts from mark to mark

[mount.bolts]
# altitude_turns_per_degree = 0.8  # counted on the mount; or, from the thread:
# altitude_pitch_mm = 1.25
# altitude_arm_mm = 57             # bolt to hinge
# altitude_clockwise = "raises"    # raises or lowers
# azimuth_turns_per_degree = 0.7
# azimuth_pitch_mm = 1.25
# azimuth_arm_mm = 50              # bolt to the middle
# azimuth_pair = true              # two bolts that push against each other
# azimuth_clockwise_east_bolt = "axis west"
# latitude_scale_step_deg = 1
# latitude_scale_offset_deg = 0.5  # what the scale shows too much, once you have checked it

[mount.polar_scope]
kind = "none"                      # scope, hollow or none
# field_deg = 8
# view = "inverted"                # inverted, erect or mirrored
# aperture_mm = 10
# ring_radius_arcmin = 40          # its engraved ring, if it has one
# bore_diameter_mm = 20            # of a hollow axis
# bore_length_mm = 180

[mount.travel]
# weights_up_h = 1                 # hours past the level at which the hour axis stops
{motor}
# [[mount.weight]]                 # one block for each counterweight that you own
# mass_kg = 3.4
# thickness_mm = 50
# radius_mm = 58

# THE TUBE ----------------------------------------------------------------------------------

[tube]
# name = "grandfather's tube"      # what you call it; left out: aperture, f/ratio and kind
kind = "{kind}"               # newtonian, refractor or catadioptric
aperture_mm = {aperture}
focal_length_mm = {focal}
# length_mm = {length}
# diameter_mm = 165
# mass_kg = 4.5                    # with rings and dovetail, without finder and eyepiece
# balance_from_front_mm = {balance}      # front end to where the bare tube balances
# dovetail_length_mm = 200         # how much of it can slide in the saddle
{tube_more}# cool_down_min = 30
# solar_filter = true              # a filter made for the Sun goes over the front of the tube
# line_filters = ["narrow band"]   # for nebulae: narrow band, O III, H-beta

[tube.finder]
# aperture_mm = 30
# magnification = 6
# field_deg = 7                    # how much sky it shows, from edge to edge
# look = "upside down"             # upright, upside down or mirrored
# plain_sight = true               # instead of these four: a sight without power, and
# rings_deg = [0.5, 2]             # how far its rings or marks lie from its middle
# mass_kg = 0.3
# length_mm = 200
# radius_mm = 25                   # half its thickness
# angle_deg = 45                   # around the tube: 0 away from the saddle, 90 right
# solar_filter = true              # and one over the finder: without both, no Sun

# [[tube.accessory]]               # anything else with mass on the tube
# name = "dew heater"
# mass_kg = 0.2
# from_front_mm = 60

[[eyepiece]]
focal_length_mm = {eyepiece}
apparent_field_deg = 50
# field_stop_mm = 21               # makes the true field exact
# mass_kg = 0.15
# radius_mm = 22                   # half its thickness
# length_mm = 60                   # what stands out of the focuser
{eyepieces}
{barlow}
# [camera]
# pixel_um = 3.76
# width_px = 3008
# height_px = 3008
# mass_kg = 0.6
# radius_mm = 42                   # half its thickness
# length_mm = 80                   # what stands out of the focuser
# exposure_s = 30
# guided = false

# HOW YOU OBSERVE ---------------------------------------------------------------------------

[habits]
observer = {observer:<24}# newcomer, practised or expert
visitors = {visitors:<24}# how many people look at each object, besides you
# units = "metric"                 # metric or us
{audience}# seconds_per_visitor = 45
# talk_min = 2                     # what is said at each object, questions with it
# find_bright_min = 1              # to find the Moon, a planet, a bright star
# find_easy_min = 2                # what the bare eye or the finder shows
# find_faint_min = 2.5             # all else
# slack_part = 0.18                # of the time stays free, for nothing goes as planned
# set_up_min = 45                  # setting up until the pole star; else by rig and experience
# most_stops = 12                  # more than this tires people
# eye_height_min_mm = 900          # lowest and highest eye that should reach the eyepiece
# eye_height_max_mm = 1700
# lowest_altitude_deg = 15
# start = 21:30:00
# hours = 3
# bedtime = 22:30:00
# touch_chance_percent = 2         # that any stop of an evening touches the mount, at most
# children_until = 21:00:00         # their evening ends; what asks for patience comes after
# must_see = ["M31"]
# exclude = []
# themes = ["clusters", "colours"]
# own_objects_file = "own.csv"     # beside this file
# elements_files = ["comets.txt"]  # orbits as the Minor Planet Center publishes them, beside this
# satellite_files = ["stations.txt"]  # two-line elements, beside this

# [habits.weights]                 # what makes an object worth a stop
# shows = 16                       # how well it shows in this tube under this sky
# rewards = 52                     # how rewarding it is to these people
# tonight = 12                     # what happens on it tonight
# differs = 12                     # how it differs from its neighbours on the list
# comfort = 8                      # how comfortably it stands

# [[habits.break]]
# at = 21:15:00
# minutes = 10

# [[habits.satellite]]             # how bright one of your satellite_files is
# number = 99001
# magnitude = 2.0                  # at 1,000 km, lit from the side

# THE YARD ----------------------------------------------------------------------------------
# For 'axletree spot': x metres east and y metres north of a corner of your own.

# [yard]
# area_m = [[0, 0], [12, 0], [12, 9], [0, 9]]  # where a tripod may stand
# slope_percent = 1.5
# downhill_azimuth_deg = 160

# [[yard.post]]
# x_m = 6
# y_m = 11
# height_m = 6
# radius_m = 0.06

# [[yard.wall]]
# points_m = [[-1, 0], [-1, 9]]
# height_m = 2.4

# [[yard.tree]]
# x_m = 3
# y_m = 12
# height_m = 7
# crown_radius_m = 2.5
# crown_base_m = 2.2

# [[yard.roof]]
# corners_m = [[14, 0], [22, 0], [22, 9], [14, 9]]
# eaves_height_m = 3.4
# ridge_height_m = 4.9

# [[yard.view]]                    # a stretch of sky that you want free
# name = "south"
# from_azimuth_deg = 135
# to_azimuth_deg = 225
# above_deg = 15
"""
