"""Where an object stands, from here, at a time.

Apparent place of date, hour angle, azimuth and altitude with and without air. The spot is the
kit's, or given by --lat, --lon and --elevation. The positions are not for navigation.
"""

from __future__ import annotations

import argparse
from datetime import UTC, datetime

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.kit.errors import AxletreeError

EXAMPLE = "axletree where Vega --lat 38.57 --lon -7.91 --at 2026-12-05T19:00"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("object", nargs="+", help="a name: Vega, M13, NGC 7000, Saturn, Moon")
    kit_options(parser)
    parser.add_argument("--lat", type=float, metavar="DEG", help="latitude, north positive")
    parser.add_argument("--lon", type=float, metavar="DEG", help="longitude, east positive")
    parser.add_argument("--elevation", type=float, default=0.0, metavar="M", help="metres (0)")


def answer(options: argparse.Namespace) -> Answer:
    """Positions of the object."""
    from axletree.evening.brought.named import object_named
    from axletree.sky.observer import Observer
    from axletree.stages.target.where import WhereRequest, where
    from axletree.tell.where.data import where_data
    from axletree.tell.where.text import where_text

    if (options.lat is None) != (options.lon is None):
        raise AxletreeError("give both --lat and --lon, or neither (then the kit's site is used)")
    kit, observer = None, None
    if options.lat is not None:
        observer = Observer(options.lat, options.lon, options.elevation)
        moment = _moment(options)
    else:
        kit = read_kit(options)
        moment = parse_moment(options.at, kit.site)
    folder = None if kit is None else kit_folder(options)
    target = object_named(" ".join(options.object), kit, folder, moment)
    found = where(kit, WhereRequest(target, moment, observer))
    return Answer(where_text(found), where_data(found))


def _moment(options: argparse.Namespace) -> datetime:
    """The instant for bare coordinates: a time without a zone is the place's own."""
    if options.at is None:
        return datetime.now(UTC).replace(microsecond=0)
    from axletree.kit.parts.site import Site
    from axletree.kit.place.find import time_zone_at

    zone = time_zone_at(options.lat, options.lon)
    site = Site(latitude_deg=options.lat, longitude_deg=options.lon, time_zone=zone)
    return parse_moment(options.at, site)
