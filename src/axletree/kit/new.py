"""With which file does a person begin? A commented kit that asks for five numbers first."""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.prepare import locate


def new_kit_text(
    name: str = "my kit",
    place: str | None = None,
    kind: str = "newtonian",
    aperture_mm: float = 130.0,
    focal_length_mm: float = 650.0,
    size: str = "middle",
    motion: str = "hand",
) -> str:
    """The text of a new kit file (TOML), checked by the caller like any other.

    `place` is a name or coordinates; without it the latitude and longitude are left for the
    person, as Greenwich's.
    """
    if any(ord(c) < 32 for c in name + (place or "")):
        raise AxletreeError("a name or place must be one line of text")
    if place:
        latitude, longitude, elevation, zone = locate(place)
        where = (
            f"# from '{place}'\nlatitude_deg = {latitude:.4f}\nlongitude_deg = {longitude:.4f}\n"
            f"elevation_m = {elevation or 0:.0f}"
            f"{'' if elevation is not None else '              # not known: look at a map'}\n"
            f'time_zone = "{zone}"'
        )
    else:
        where = (
            "latitude_deg = 51.4769       # north positive; yours is on any map\n"
            "longitude_deg = 0.0005       # east positive\n"
            "elevation_m = 47\n"
            'time_zone = "Europe/London"  # an IANA name; left out, it follows from the place'
        )
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    motor = '\n[mount.motor]\nrates = ["sidereal"]\n' if motion == "motor" else ""
    return _TEXT.format(
        name=quoted, where=where, kind=kind, aperture=f"{aperture_mm:g}",
        focal=f"{focal_length_mm:g}", size=size, motion=motion, motor=motor,
    )  # fmt: skip


_TEXT = """\
# A kit for Axletree: where you stand, what you own, how you observe.
# Five numbers are enough to begin: latitude and longitude, aperture and focal length of the
# tube, and the mount's size. Everything that starts with '#' may stay as it is; Axletree fills
# it in, and says in every answer which values it guessed. 'axletree kit check FILE' checks.
# Lengths in mm, masses in kg, angles in degrees, as the names say.

kit_version = 1
name = "{name}"

[site]
name = "{name}"
{where}
# place = "Évora"                  # instead of coordinates: a name, coordinates or a geo: URI
# sky_brightness_mag_arcsec2 = 20  # or naked_eye_limit_mag = 5.5
# seeing_arcsec = 2.5
# temperature_c = 10
# pressure_hpa = 1000              # at the site, not reduced to sea level

[site.skyline]
# What stands around you: [azimuth, altitude] in degrees from true north, joined by lines.
# points = [[0, 10], [90, 15], [180, 5], [270, 20]]
open_altitude_deg = 0

[mount]
size = "{size}"                  # small, middle or large: stands in for all that is not measured
motion = "{motion}"                  # hand or motor
# payload_limit_kg = 9

[mount.tripod]
# top_height_mm = 800              # ground to the top of the legs
# foot_radius_mm = 540             # centre to foot

[mount.head]
# saddle_distance_mm = 150         # crossing of the axes to the saddle
# shaft_length_mm = 330            # where weights can go

[mount.gears]
# hour_worm_teeth = 144
# declination_worm_teeth = 144

[mount.bolts]
# altitude_turns_per_degree = 0.8
# azimuth_turns_per_degree = 0.7   # or from the thread: azimuth_pitch_mm and azimuth_arm_mm

[mount.polar_scope]
kind = "none"                      # scope, hollow or none
# field_deg = 8
# view = "inverted"                # inverted, erect or mirrored
{motor}
# [[mount.weight]]                 # one block for each counterweight that you own
# mass_kg = 3.4
# thickness_mm = 50
# radius_mm = 58

[tube]
kind = "{kind}"               # newtonian, refractor or catadioptric
aperture_mm = {aperture}
focal_length_mm = {focal}
# length_mm = 620
# diameter_mm = 165
# mass_kg = 4.5                    # with rings and dovetail, without finder and eyepiece

[tube.finder]
# mass_kg = 0.3

[[eyepiece]]
focal_length_mm = 25
apparent_field_deg = 50

[[eyepiece]]
focal_length_mm = 10
apparent_field_deg = 50

[habits]
observer = "practised"             # newcomer, practised or expert
visitors = 0                       # how many people look at each object, besides you
# seconds_per_visitor = 45
# eye_height_min_mm = 900          # lowest and highest eye that should reach the eyepiece
# eye_height_max_mm = 1700
# hours = 3
# must_see = ["M31"]
# exclude = []
# themes = ["clusters", "colours"]
"""
