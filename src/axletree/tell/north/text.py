"""How is the way to true north told: as text for people, as data for programs?"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from axletree.ground.north.method import Closed, Way
from axletree.ground.north.methods import North
from axletree.tell.shared.paragraphs import listed, paragraph, sections
from axletree.tell.shared.words import clock, compass_point, degrees

SUN_CAUTION = (
    "The Sun: never look at it, nor towards it through anything. Caps on tube and finder; "
    "stand with the Sun behind you and work with the shadow."
)
STEEL_CAUTION = (
    "A compass lies beside steel: read it more than 2 m from tripod, weights, telephone and "
    "fence, and more than 10 m from a car; read it twice, a few steps apart."
)


def north_text(north: North, site_name: str, zone: ZoneInfo) -> str:
    """The answer as text of at most 80 columns: best way first, then all, then the conditions."""
    pole = "north" if north.north else "south"
    now = [w for w in north.ways if w.usable and w.now]
    later = [w for w in north.ways if w.usable and not w.now]
    poor = [w for w in north.ways if not w.usable]
    local = north.at.astimezone(zone)
    head = f"True {pole} from {site_name}, {local:%Y-%m-%d %H:%M}"
    if now:
        best = f"Best now: {now[0].name}, {plus_minus(now[0].sigma_deg)}. {how_to(now[0], pole)}"
    elif later:
        at = _when(later[0].at, north.at, zone)
        best = f"Nothing works now. First: {later[0].name} at {at}. {how_to(later[0], pole)}"
    else:
        best = (
            "No method can be trusted here now; set the axis by level and latitude scale and "
            "find its direction by drift."
        )
    return sections(
        head,
        paragraph(best),
        _table("Works now, by expected error", now, pole, north.at, zone),
        _table("Later", later, pole, north.at, zone),
        listed("Not to be trusted", [f"{w.name}: {w.reason}." for w in poor]),
        listed("Not open", [_closed_words(c, north.at, zone) for c in north.closed]),
        compass_words(north),
        paragraph(need_words(north)),
        listed("Cautions", cautions(north)),
        listed("Assumed", assumptions(north)),
    )


def plus_minus(sigma_deg: float) -> str:
    """An uncertainty, as '±0.15°' or '±3°'."""
    return f"±{sigma_deg:.2f}°" if sigma_deg < 2.0 else f"±{sigma_deg:.0f}°"


def turn_words(turn_deg: float, pole: str, start: str) -> str:
    """Where the pole is, seen from a line: '5.8° to the right (clockwise) of the shadow'."""
    if abs(turn_deg) < 0.05:
        return f"true {pole} is along {start}"
    if abs(turn_deg) > 179.95:
        return f"true {pole} is straight opposite {start}"
    side = "right" if turn_deg > 0 else "left"
    return f"true {pole} is {abs(turn_deg):.1f}° to the {side} of {start}"


def how_to(item: Way, pole: str) -> str:
    """One sentence: what to do with this way."""
    if item.kind == "compass":
        return "Turn until the compass shows the bearing below."
    if item.kind == "landmark":
        return (
            f"It stands at {item.azimuth_deg:.2f}° true; "
            + turn_words(item.turn_to_pole_deg, pole, "it")
            + "."
        )
    if item.kind == "pole star":
        off = -item.turn_to_pole_deg
        side = "right" if off > 0 else "left"
        return (
            f"It stands {abs(off):.2f}° to the {side} of true {pole}, "
            f"{degrees(item.altitude_deg or 0.0)} high; {_seen_through(item)}."
        )
    if "shadow" in item.name or item.kind == "sun on the meridian":
        hang = "Hang a plumb line in its light. "
        if item.kind == "sun on the meridian":
            return hang + "At that moment the shadow lies exactly along the meridian."
        return (
            hang
            + f"The shadow points to {item.line_deg:.1f}°; "
            + turn_words(item.turn_to_pole_deg, pole, "it")
            + "."
        )
    if item.kind in ("star on the meridian", "moon on the meridian"):
        due = "north" if item.azimuth_deg < 90.0 else "south"
        return f"It stands due {due} then, {degrees(item.altitude_deg or 0.0)} high."
    return (
        f"Sight it along a plumb line: it stands at {item.line_deg:.1f}°, "
        f"{degrees(item.altitude_deg or 0.0, 0)} high; "
        + turn_words(item.turn_to_pole_deg, pole, "it")
        + "."
    )


def _seen_through(item: Way) -> str:
    through = dict(item.parts).get("leaning sight", 0.0) == 0.0
    return "set it through the polar axis" if through else "sight it along a plumb line"


def _table(title: str, ways: Sequence[Way], pole: str, asked: datetime, zone: ZoneInfo) -> str:
    rows = []
    for item in ways:
        when = "" if item.now else f"{_when(item.at, asked, zone, seconds=True)}  "
        until = f" Until {_when(item.until, asked, zone)}." if item.until else ""
        rows.append(f"{plus_minus(item.sigma_deg):>6}  {when}{item.name}. {how_to(item, pole)}")
        rows.append(f"        ({item.reason}.{until})")
    if not rows:
        return ""
    lines = [
        paragraph(row, "  ", " " * 10) if i % 2 == 0 else paragraph(row.strip(), " " * 10)
        for i, row in enumerate(rows)
    ]
    return "\n".join([title, *lines])


def _when(at: datetime, asked: datetime, zone: ZoneInfo, *, seconds: bool = False) -> str:
    """'18:50', with seconds or with the day where it isn't the asked one."""
    local = at.astimezone(zone)
    text = f"{local:%H:%M:%S}" if seconds else clock(at, zone)
    days = (local.date() - asked.astimezone(zone).date()).days
    return text if days == 0 else f"tomorrow {text}" if days == 1 else f"{local:%d %b} {text}"


def _closed_words(item: Closed, asked: datetime, zone: ZoneInfo) -> str:
    until = f" until {_when(item.opens, asked, zone)}" if item.opens else ""
    return f"{item.name}: {item.reason}{until}."


def compass_words(north: North) -> str:
    """The compass bearing with the field behind it."""
    field = north.field
    pole = "north" if north.north else "south"
    side = "east" if field.declination_deg >= 0 else "west"
    zone = {
        "usual": "",
        "caution": " The level field is weak here: a caution zone for compasses.",
        "blackout": " A blackout zone: no compass can be trusted here.",
    }[field.zone]
    return paragraph(
        f"Compass: true {pole} is at {north.compass_bearing_deg:.1f}° on the compass "
        f"({compass_point(north.compass_bearing_deg)}), {plus_minus(north.compass_sigma_deg)} "
        f"with the reading. The needle points {abs(field.declination_deg):.2f}° {side} of true "
        f"north here ({plus_minus(field.declination_sigma_deg)}, World Magnetic Model 2025, "
        f"{field.year:.1f}; level field {field.horizontal_nt:.0f} nT).{zone}"
    )


def need_words(north: North) -> str:
    """How near is near enough, where the kit says so; else empty."""
    if north.needed_deg is None:
        return ""
    enough = [w for w in north.ways if w.usable and 2.0 * w.sigma_deg <= north.needed_deg]
    which = "none of these" if not enough else "every one of these" if len(enough) == len(
        [w for w in north.ways if w.usable]
    ) else "the better of these"  # fmt: skip
    return (
        f"Near enough: within {north.needed_deg:.1f}° the pole lies in the field of the polar "
        f"axis, and its bolts do the rest. Two times the error in mind, {which} will do."
    )


def cautions(north: North) -> list[str]:
    """The cautions that apply: the Sun wherever a method works by daylight, steel for compasses."""
    daylight = north.sun_altitude_deg is None or north.sun_altitude_deg > -1.0
    out = []
    if daylight or any(w.needs_light for w in north.ways):
        out.append(SUN_CAUTION)
    if any(w.kind == "compass" and w.usable for w in north.ways):
        out.append(STEEL_CAUTION)
    return out


def assumptions(north: North) -> list[str]:
    """What the figures rest on."""
    h = north.hands
    return [
        f"one standard deviation each: compass reading {h.compass_deg:g}°, sighting by eye "
        f"{h.sighting_deg:g}°, clock {h.clock_s:g} s, leaning rod {h.lean_deg:g}°, middle of a "
        f"shadow {h.shadow_deg:g}°, star in the polar scope {h.scope_deg:g}°; positions "
        f"{h.site_m:g} m and {h.mark_m:g} m.",
        *(f"{note}." for note in north.notes),
    ]


def north_data(north: North) -> dict[str, Any]:
    """The answer for programs; keys carry units."""
    field = north.field
    return {
        "at": north.at.isoformat(),
        "pole": "north" if north.north else "south",
        "pole_azimuth_deg": north.pole_azimuth_deg,
        "magnetic_declination_deg": field.declination_deg,
        "magnetic_declination_sigma_deg": field.declination_sigma_deg,
        "magnetic_inclination_deg": field.inclination_deg,
        "horizontal_field_nt": field.horizontal_nt,
        "zone": field.zone,
        "within_model_years": field.valid,
        "compass_bearing_deg": north.compass_bearing_deg,
        "compass_sigma_deg": north.compass_sigma_deg,
        "near_enough_deg": north.needed_deg,
        "sun_altitude_deg": north.sun_altitude_deg,
        "methods": [_way_data(item, "north" if north.north else "south") for item in north.ways],
        "not_open": [
            {
                "name": item.name,
                "reason": item.reason,
                "opens": item.opens.isoformat(timespec="seconds") if item.opens else None,
            }
            for item in north.closed
        ],
        "cautions": cautions(north),
        "assumed": assumptions(north),
    }


def _way_data(item: Way, pole: str) -> dict[str, Any]:
    return {
        "method": item.kind,
        "name": item.name,
        "works_now": item.now,
        "usable": item.usable,
        "at": item.at.isoformat(timespec="milliseconds"),
        "until": item.until.isoformat(timespec="seconds") if item.until else None,
        "azimuth_deg": item.azimuth_deg,
        "line_deg": item.line_deg,
        "turn_to_pole_deg": item.turn_to_pole_deg,
        "altitude_deg": item.altitude_deg,
        "rate_deg_per_min": item.rate_deg_per_min,
        "sigma_deg": item.sigma_deg,
        "error_parts_deg": dict(item.parts),
        "reason": item.reason,
        "how": how_to(item, pole),
    }
