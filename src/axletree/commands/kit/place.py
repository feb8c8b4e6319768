"""Find a place by name, without a network.

Lists matches with country, coordinates, elevation and time zone. Coordinates and geo: URIs
(RFC 5870) are read too.
"""

from __future__ import annotations

import argparse

from axletree.commands.shared.common import Answer
from axletree.kit.errors import AxletreeError

EXAMPLE = "axletree place Évora"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("name", nargs="+", help="a name, coordinates, or a geo: URI")
    parser.add_argument("--limit", type=int, default=10, help="how many matches (10)")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """The matches."""
    from axletree.kit.place.find import find_places

    text = " ".join(options.name)
    if options.limit < 1:
        raise AxletreeError("--limit must be at least 1")
    if text.lower().startswith("geo:") or sum(c.isdigit() for c in text) >= 2:
        from axletree.kit.reading.prepare import locate

        latitude, longitude, elevation, zone = locate(text)
        row = {
            "latitude_deg": latitude, "longitude_deg": longitude, "elevation_m": elevation,
            "time_zone": zone,
        }  # fmt: skip
        height = f", {elevation:.0f} m" if elevation is not None else ""
        return Answer(f"{latitude:.5f}, {longitude:.5f}{height}, {zone}", {"places": [row]})
    found = find_places(text, limit=options.limit)
    if not found:
        raise AxletreeError(
            f"no place called '{text}' in the list; give coordinates, like \"38.57, -7.91\""
        )
    rows, lines = [], []
    for place in found:
        rows.append(
            {
                "name": place.name,
                "country": place.country,
                "latitude_deg": place.latitude_deg,
                "longitude_deg": place.longitude_deg,
                "elevation_m": place.elevation_m,
                "time_zone": place.time_zone,
                "population": place.population,
            }  # fmt: skip
        )
        height = f"{place.elevation_m:.0f} m" if place.elevation_m is not None else "? m"
        lines.append(
            f"{place.name}, {place.country}\n    {place.latitude_deg:.4f}, "
            f"{place.longitude_deg:.4f}   {height:>6}   {place.time_zone}"
        )
    return Answer("\n".join(lines), {"places": rows})
