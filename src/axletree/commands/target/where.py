"""Where an object stands, from here, at a time.

Apparent place of date, hour angle, azimuth and altitude with and without air. The spot is the
kit's, or given by --lat, --lon and --elevation. The positions are not for navigation.
"""

from __future__ import annotations

import argparse
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import Answer, kit_options, parse_moment, read_site
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.sky.catalogue.objects import SkyObject
    from axletree.sky.observer import Observer
    from axletree.sky.time.instants import Instants

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
    from axletree.sky.catalogue.objects import find
    from axletree.sky.observer import Observer
    from axletree.sky.time.instants import Instants

    if (options.lat is None) != (options.lon is None):
        raise AxletreeError("give both --lat and --lon, or neither (then the kit's site is used)")
    if options.lat is not None:
        observer = Observer(options.lat, options.lon, options.elevation)
        moment, spot = _moment(options), f"{options.lat:g}, {options.lon:g}"
    else:
        site, observer = read_site(options)
        moment, spot = parse_moment(options.at, site), site.name
    thing = find(" ".join(options.object))
    return _answer(thing, spot, moment, Instants.from_datetime(moment), observer)


def _moment(options: argparse.Namespace) -> datetime:
    """The instant for bare coordinates: a time without a zone is the place's own."""
    if options.at is None:
        return datetime.now(UTC).replace(microsecond=0)
    from axletree.kit.parts.site import Site
    from axletree.kit.place.find import time_zone_at

    zone = time_zone_at(options.lat, options.lon)
    site = Site(latitude_deg=options.lat, longitude_deg=options.lon, time_zone=zone)
    return parse_moment(options.at, site)


def _answer(
    thing: SkyObject, spot: str, moment: datetime, instants: Instants, observer: Observer
) -> Answer:
    from axletree.sky.positions.objects import object_positions
    from axletree.tell.shared.paragraphs import paragraph
    from axletree.tell.shared.words import compass_point, degrees, degrees_minutes, hours_minutes

    here = object_positions([thing], instants, observer)
    row = {
        name: float(getattr(here, name)[0, 0])
        for name in (
            "right_ascension_h", "declination_deg", "hour_angle_h", "azimuth_deg",
            "altitude_true_deg", "altitude_deg", "airmass",
        )
    }  # fmt: skip
    up = row["altitude_deg"] > 0
    data: dict[str, Any] = {"object": thing.name, "kind": thing.kind, "at": moment.isoformat()}
    data |= {k: (v if k != "airmass" or up else None) for k, v in row.items()}
    called = f" ({', '.join(thing.common_names[:2])})" if thing.common_names else ""
    if up:
        head = (
            f"{thing.name}{called} stands {degrees(row['altitude_deg'])} high in the "
            f"{compass_point(row['azimuth_deg'])}."
        )
    else:
        head = (
            f"{thing.name}{called} is below the horizon "
            f"({degrees(row['altitude_true_deg'])}), {compass_point(row['azimuth_deg'])}."
        )
    lines = [
        head,
        f"  {spot}, {moment.isoformat(timespec='seconds')}",
        f"  right ascension  {_sexagesimal(row['right_ascension_h'])} (apparent, of date)",
        f"  declination      {degrees_minutes(row['declination_deg'], signed=True)}",
        f"  hour angle       {hours_minutes(row['hour_angle_h'], signed=True)} (west positive)",
        f"  azimuth          {row['azimuth_deg']:.2f}° from true north through east",
        f"  altitude         {degrees(row['altitude_deg'], 2)} as seen, "
        f"{degrees(row['altitude_true_deg'], 2)} without air",
    ]
    if up:
        lines.append(f"  airmass          {row['airmass']:.2f}")
    if thing.kind == "sun":
        lines.append("  Caution: never look at the Sun, nor point an unfiltered tube near it.")
        data["cautions"] = ["Never look at the Sun or point an unfiltered tube near it."]
    if instants.note:
        lines.append(paragraph(instants.note, "  "))
        data["notes"] = [instants.note]
    return Answer("\n".join(lines), data)


def _sexagesimal(hours: float) -> str:
    seconds = round(hours * 3600)
    return f"{seconds // 3600 % 24}h {seconds // 60 % 60:02d}m {seconds % 60:02d}s"
