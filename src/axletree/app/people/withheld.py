"""What do people who only look learn of the place, and of the kit's text?

The leader alone carries the logbook away, because it holds exact places. So it is with everything
else that the app sends: who only looks is told the place's name and time zone, and every figure
is worked out for a place rounded to a tenth of a degree (5.6 km off at most along the meridian)
and a hundred metres of height, so that no figure, sentence or drawing can say more. What has to be
the leader's own (the evening under way, what was measured) is told in figures as coarse as that
place: directions to a tenth of a degree, hours to a hundredth, moments to the minute. The kit's
text and its fields stay with the leader.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.kit.place.coordinates import parse_location

COARSE_DEG = 0.1
COARSE_M = 100.0
UNNAMED = "a place without a name"
# Pages' settings that hold a place: left out, or rounded.
PLACES_SET = {"north": ("landmark",)}
LATITUDES_SET = {"teach": ("latitude",)}
_DIGITS = {"_deg": 1, "_h": 2, "airmass": 2}


def coarse_kit(kit: Kit) -> Kit:
    """The same kit at a place that is only about right."""
    site = kit.site
    return kit.model_copy(
        update={
            "name": public_name(kit.name),
            "site": site.model_copy(
                update={
                    "name": public_name(site.name),
                    "place": None,
                    "latitude_deg": coarse_deg(site.latitude_deg),
                    "longitude_deg": coarse_deg(site.longitude_deg),
                    "elevation_m": round(site.elevation_m / COARSE_M) * COARSE_M,
                }
            ),
        }
    )


def coarse_deg(value: float) -> float:
    """To the tenth of a degree; what lies south of the equator stays there."""
    rounded = round(round(value / COARSE_DEG) * COARSE_DEG, 6)
    return -COARSE_DEG / 2.0 if value < 0.0 and rounded == 0.0 else rounded


def public_name(name: str) -> str:
    """A name as it is, unless it is a pair of coordinates."""
    try:
        parse_location(name)
    except AxletreeError:
        return name
    return UNNAMED


def coarse_settings(page: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """A page's settings without places."""
    kept = {k: v for k, v in values.items() if k not in PLACES_SET.get(page, ())}
    for key in LATITUDES_SET.get(page, ()):
        if isinstance(kept.get(key), int | float):
            kept[key] = coarse_deg(kept[key])
    return kept


def coarse_event(word: str, data: Mapping[str, Any]) -> Mapping[str, Any]:
    """An event of the stream as those hear it who only look."""
    if word == "settings":
        return {**data, "values": coarse_settings(data["page"], data["values"])}
    if word == "hello":
        settings = {
            page: coarse_settings(page, values) for page, values in data["settings"].items()
        }
        return {**data, "settings": settings}
    return data


def coarse_figures(value: Any, key: str = "") -> Any:
    """Plain data with directions, hours and moments no finer than the place of `coarse_kit`."""
    if isinstance(value, Mapping):
        return {k: coarse_figures(v, k) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [coarse_figures(v, key) for v in value]
    if isinstance(value, float):
        digits = next((n for end, n in _DIGITS.items() if key.endswith(end)), None)
        return value if digits is None else round(value, digits)
    return _to_the_minute(value) if isinstance(value, str) else value


def _to_the_minute(text: str) -> str:
    if len(text) < 19 or text[10] != "T":
        return text
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return text
    whole = (moment + timedelta(seconds=30)).replace(second=0, microsecond=0)
    return whole.isoformat()
