"""How is a raw kit completed before it is checked: place, zone, guessed dimensions?"""

from __future__ import annotations

from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.parts.defaults import fill, mount_defaults, tube_defaults, with_bolt_turns
from axletree.kit.reading.problems import Problem


def completed(raw: dict[str, Any], problems: list[Problem]) -> dict[str, Any]:
    """The raw tables with place, zone and guessed dimensions filled in."""
    out = dict(raw)
    guessed: list[str] = []
    out.pop("guessed", None)
    if "guessed" in raw:
        problems.append(Problem("guessed", "unknown key; Axletree fills this in itself"))
    tube = raw.get("tube")
    if isinstance(tube, dict):
        out["tube"], names = fill(tube, tube_defaults(tube), "tube")
        guessed += names
    site = raw.get("site")
    if isinstance(site, dict):
        out["site"], names = _located(site, problems)
        guessed += names
    mount = raw.get("mount", {})
    if isinstance(mount, dict):
        mount = with_bolt_turns(mount)
        latitude = out["site"].get("latitude_deg") if isinstance(site, dict) else None
        known = float(latitude or 0) if _within(latitude, 90) else None
        out["mount"], names = fill(mount, mount_defaults(mount, known), "mount")
        guessed += names
    if "eyepiece" not in raw:
        out["eyepiece"] = [{"focal_length_mm": 25.0}, {"focal_length_mm": 10.0}]
        guessed.append("eyepiece")
    out["guessed"] = tuple(guessed)
    return out


def _within(value: object, limit: float) -> bool:
    return isinstance(value, (int, float)) and abs(value) <= limit


def _located(site: dict[str, Any], problems: list[Problem]) -> tuple[dict[str, Any], list[str]]:
    """Fill coordinates from `place` (a name, coordinates or a geo: URI) and the zone from them."""
    out: dict[str, Any] = dict(site)
    guessed: list[str] = []
    place = site.get("place")
    if isinstance(place, str) and not {"latitude_deg", "longitude_deg"} <= site.keys():
        try:
            latitude, longitude, elevation, zone = locate(place)
        except AxletreeError as error:
            problems.append(Problem("site.place", str(error)))
            latitude, longitude, elevation, zone = 0.0, 0.0, None, "UTC"
        filled: dict[str, Any] = {"latitude_deg": latitude, "longitude_deg": longitude}
        if zone:
            filled["time_zone"] = zone
        if elevation is not None:
            filled["elevation_m"] = elevation
        out, guessed = fill(site, filled, "site")
    if "time_zone" not in out:
        north, east = out.get("latitude_deg"), out.get("longitude_deg")
        if _within(north, 90) and _within(east, 360):
            from axletree.kit.place.find import time_zone_at

            out["time_zone"] = time_zone_at(float(north or 0), float(east or 0))
        else:
            out["time_zone"] = "UTC"
        guessed.append("site.time_zone")
    return out, guessed


def locate(place: str) -> tuple[float, float, float | None, str]:
    """Latitude, longitude (degrees), elevation (m) and zone of a place by name or coordinates.

    Coordinates may be decimal, sexagesimal or a geo: URI (RFC 5870). Of several places with the
    same name the most populous is meant; 'name, country' chooses another.
    """
    from axletree.kit.place.find import find_places, parse_location, time_zone_at

    if place.strip()[:4].lower() == "geo:" or sum(c.isdigit() for c in place) >= 2:
        latitude, longitude, elevation = parse_location(place)
        return latitude, longitude, elevation, time_zone_at(latitude, longitude)
    found = find_places(place, limit=1)
    if not found:
        raise AxletreeError(
            f"no place called '{place}' in the list; give coordinates, like \"38.57, -7.91\""
        )
    best = found[0]
    return best.latitude_deg, best.longitude_deg, best.elevation_m, best.time_zone
