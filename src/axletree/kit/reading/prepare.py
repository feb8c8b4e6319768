"""How is a raw kit completed before it is checked: place, zone, guessed dimensions?"""

from __future__ import annotations

from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.parts.assumed import assumed
from axletree.kit.parts.circles import circles_defaults, with_circles_table
from axletree.kit.parts.defaults import fill, mount_defaults, tube_defaults, with_bolt_turns
from axletree.kit.reading.problems import FILLED_IN, Problem, ProblemKind


def completed(raw: dict[str, Any], problems: list[Problem]) -> dict[str, Any]:
    """The raw tables with place, zone and guessed dimensions filled in."""
    out = dict(raw)
    guessed: list[str] = []
    for key in FILLED_IN:
        if out.pop(key, None) is not None:
            message = "unknown key; Axletree fills this in itself"
            problems.append(Problem(key, message, kind=ProblemKind.UNKNOWN_KEY))
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
        mount = with_circles_table(with_bolt_turns(mount))
        latitude = out["site"].get("latitude_deg") if isinstance(site, dict) else None
        known = float(latitude or 0) if _within(latitude, 90) else None
        usual = mount_defaults(mount, known)
        if usual:
            usual["circles"] = circles_defaults(mount.get("circles"), raw.get("habits"))
        out["mount"], names = fill(mount, usual, "mount")
        guessed += names
    if "eyepiece" not in raw:
        out["eyepiece"] = [{"focal_length_mm": 25.0}, {"focal_length_mm": 10.0}]
        guessed.append("eyepiece")
    out["guessed"] = (*guessed, *assumed(out, tuple(guessed)))
    return out


def _within(value: object, limit: float) -> bool:
    return isinstance(value, (int, float)) and abs(value) <= limit


def _located(site: dict[str, Any], problems: list[Problem]) -> tuple[dict[str, Any], list[str]]:
    """Fill coordinates from `place` (a name, coordinates or a geo: URI) and the zone from them."""
    out: dict[str, Any] = dict(site)
    guessed: list[str] = []
    place = site.get("place")
    if isinstance(place, str) and not {"latitude_deg", "longitude_deg"} <= site.keys():
        from axletree.kit.place.locate import locate

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
