"""Which way is true north (in the southern hemisphere, south)?

Every method that works here and now, ranked by expected error: the compass corrected for the
local magnetic field, the shadow of the Sun and the instant when it lies exactly along the
meridian, the Moon, bright stars, the pole star corrected for its own azimuth, and a landmark
between two known positions. Errors are one standard deviation.
"""

from __future__ import annotations

import argparse
import re
from dataclasses import replace
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.ground.north.landmark import Bearing
    from axletree.ground.north.pointers import Hands
    from axletree.kit.parts.site import Site

EXAMPLE = 'axletree north --at 2026-12-05T15:30 --landmark "geo:38.6003,-7.9101"'


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser, draw=True)
    parser.add_argument(
        "--landmark", metavar="PLACE",
        help="coordinates or a geo: URI of something in sight (its u= is the uncertainty in m)",
    )  # fmt: skip
    parser.add_argument("--landmark-name", metavar="NAME", help="what it is called")
    for name, unit, words in (
        ("compass", "DEG", "reading a compass (1)"),
        ("sighting", "DEG", "sighting along a plumb line by eye (0.25)"),
        ("lean", "DEG", "how far the rod or sight leans (0.2)"),
        ("clock", "S", "the time (2)"),
        ("position", "M", "your own position (5)"),
    ):
        parser.add_argument(f"--{name}-error", type=float, metavar=unit, help=f"error of {words}")


def answer(options: argparse.Namespace) -> Answer:
    """The ways to true north."""
    from axletree.ground.north.methods import find_north
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.tell.north.text import north_data, north_text

    kit = read_kit(options)
    site = kit.site
    moment = parse_moment(options.at, site)
    horizon = site_horizon(site, kit_folder(options), moment)
    hands = _hands(options)
    mark, hands = _landmark(options, site, hands)
    north = find_north(
        observer_of(site),
        moment,
        horizon,
        scope=kit.mount.polar_scope,
        landmark=mark,
        landmark_name=options.landmark_name or "the landmark",
        eye_limit_mag=site.naked_eye_limit_mag,
        hands=hands,
    )

    def drawing() -> str:
        from axletree.tell.north.drawing import north_view

        return north_view(north, site.name, site.zone)

    return Answer(north_text(north, site.name, site.zone), north_data(north), drawing)


def _hands(options: argparse.Namespace) -> Hands:
    from axletree.ground.north.pointers import Hands

    given = {
        "compass_deg": options.compass_error,
        "sighting_deg": options.sighting_error,
        "lean_deg": options.lean_error,
        "clock_s": options.clock_error,
        "site_m": options.position_error,
    }
    for name, value in given.items():
        if value is not None and not 0.0 <= value < 1e6:
            option = name.split("_")[0].replace("site", "position")
            raise AxletreeError(f"--{option}-error {value:g}: an error is 0 or more")
    return replace(Hands(), **{name: value for name, value in given.items() if value is not None})


def _landmark(
    options: argparse.Namespace, site: Site, hands: Hands
) -> tuple[Bearing | None, Hands]:
    if options.landmark is None:
        return None, hands
    from axletree.ground.north.landmark import direction_to
    from axletree.kit.place.coordinates import parse_location

    latitude, longitude, elevation = parse_location(options.landmark)
    given = re.search(r";u=(\d+(?:\.\d+)?)", options.landmark)
    if given:
        hands = replace(hands, mark_m=float(given[1]))
    rise = None if elevation is None else elevation - site.elevation_m
    mark = direction_to(
        site.latitude_deg,
        site.longitude_deg,
        latitude,
        longitude,
        site_sigma_m=hands.site_m,
        mark_sigma_m=hands.mark_m,
        rise_m=rise,
    )
    return mark, hands
