"""How are hours, degrees, clock times and lengths written for people?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

POINTS = (
    "north", "north-north-east", "north-east", "east-north-east",
    "east", "east-south-east", "south-east", "south-south-east",
    "south", "south-south-west", "south-west", "west-south-west",
    "west", "west-north-west", "north-west", "north-north-west",
)  # fmt: skip


# The international pound, exactly, and its weight in standard gravity: NIST SP 811, B.8.
_KG_PER_LB, _N_PER_LBF = 0.45359237, 4.4482216152605


def hours_minutes(value_h: float, *, signed: bool = False) -> str:
    """Hours as '5h 03m' ('+1h 20m' if signed)."""
    minutes = round(abs(value_h) * 60)
    sign = "−" if value_h < 0 and minutes else "+" if signed else ""
    return f"{sign}{minutes // 60}h {minutes % 60:02d}m"


def degrees(value_deg: float, places: int = 1, *, signed: bool = False) -> str:
    """Degrees as '12.3°', with a true minus sign."""
    text = f"{abs(value_deg):.{places}f}"
    negative = value_deg < 0 and float(text) != 0
    return f"{'−' if negative else '+' if signed else ''}{text}°"


def degrees_minutes(value_deg: float, *, signed: bool = False) -> str:
    """Degrees as '38° 34′'."""
    minutes = round(abs(value_deg) * 60)
    sign = "−" if value_deg < 0 and minutes else ("+" if signed else "")
    return f"{sign}{minutes // 60}° {minutes % 60:02d}′"


def compass_point(azimuth_deg: float) -> str:
    """The nearest of sixteen compass points, in words."""
    return POINTS[round((azimuth_deg % 360) / 22.5) % 16]


def clock(moment: datetime, zone: ZoneInfo) -> str:
    """Local time to the nearest minute, '21:07'."""
    return own_clock(moment.astimezone(zone))


def own_clock(moment: datetime) -> str:
    """The same by the moment's own zone."""
    return (moment + timedelta(seconds=30)).strftime("%H:%M")


def day_words(day: date | str) -> str:
    """A day as it is told, '5 December 2026'; a text is read as ISO 8601."""
    given = date.fromisoformat(day) if isinstance(day, str) else day
    return f"{given.day} {given:%B %Y}"


def weekday_words(day: date | str) -> str:
    """The same with its weekday, 'Saturday 5 December 2026'; no comma, no nought before the day."""
    given = date.fromisoformat(day) if isinstance(day, str) else day
    return f"{given:%A} {day_words(given)}"


def day_and_clock(moment: datetime, zone: ZoneInfo) -> str:
    """Local day and time to the nearest minute, '5 December 2026, 20:30'."""
    at = moment.astimezone(zone) + timedelta(seconds=30)
    return f"{at.day} {at:%B %Y, %H:%M}"


def day_and_seconds(moment: datetime) -> str:
    """Day and time to the second with its own zone's name, '5 December 2026, 20:30:00 UTC'."""
    return f"{moment.day} {moment:%B %Y, %H:%M:%S %Z}"


def duration(seconds: float) -> str:
    """'35 s', '12 min', '2 h 05 min'."""
    if seconds < 90:
        return f"{seconds:.0f} s"
    minutes = round(seconds / 60)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"


def to_the_second(seconds: float) -> str:
    """How long a hand waits: '35 s', '1 min 44 s'; from ten minutes on to the minute, '12 min'."""
    whole = round(seconds)
    if whole < 60 or whole >= 600:
        return duration(seconds)
    return f"{whole // 60} min {whole % 60:02d} s" if whole % 60 else f"{whole // 60} min"


def knob_turns(turns: float) -> str:
    """Turns of a knob: '0.38 turn', and a small one with its third figure, '0.037 turn'."""
    return f"{turns:.3f} turn" if turns < 0.1 else f"{turns:.2f} turn"


def length(value_mm: float, units: str = "metric") -> str:
    """A length: millimetres as '1.20 m' or '85 mm', or in feet and inches."""
    if units == "us":
        inches = abs(value_mm) / 25.4
        sign = "−" if value_mm < 0 else ""
        if inches < 24:
            return f"{sign}{inches:.1f} in"
        whole = round(inches)
        return f"{sign}{whole // 12} ft {whole % 12} in"
    return f"{value_mm / 1000:.2f} m" if abs(value_mm) >= 1000 else f"{value_mm:.0f} mm"


def bar(error: float, places: int = 0) -> str:
    """An error as printed, so many decimals: the least that these can show, never nothing."""
    return f"{max(error, 10.0**-places):.{places}f}"


_SURE_HEIGHT_MM = 5.0  # a height known to this needs no bar beside whole centimetres


def above_ground(value_mm: float, units: str = "metric", error_mm: float = 0.0) -> str:
    """A height above the ground: '0.88 m', '0.88 ± 0.03 m', or in feet and inches."""
    if units == "us":
        bar = f" ± {length(error_mm, units)}" if error_mm >= _SURE_HEIGHT_MM else ""
        return length(value_mm, units) + bar
    bar = f" ± {error_mm / 1000:.2f}" if error_mm >= _SURE_HEIGHT_MM else ""
    return f"{value_mm / 1000:.2f}{bar} m"


def mass(value_kg: float, units: str = "metric") -> str:
    """A mass: '3.4 kg' or '7.5 lb'."""
    return f"{value_kg / _KG_PER_LB:.1f} lb" if units == "us" else f"{value_kg:.1f} kg"


def light_mass(value_kg: float, units: str = "metric") -> str:
    """A mass of less than a kilogram: '360 g' or '12.7 oz'."""
    ounces = value_kg / _KG_PER_LB * 16.0
    return f"{ounces:.1f} oz" if units == "us" else f"{value_kg * 1000:.0f} g"


def force(value_n: float, units: str = "metric") -> str:
    """A force: '41 N' or '9.2 lbf'."""
    return f"{value_n / _N_PER_LBF:.1f} lbf" if units == "us" else f"{value_n:.0f} N"


def torque(value_nm: float, units: str = "metric") -> str:
    """A torque: '0.37 N·m' or '3.3 lbf·in'."""
    inches = value_nm / _N_PER_LBF / 0.0254
    return f"{inches:.1f} lbf·in" if units == "us" else f"{value_nm:.2f} N·m"


def temperature(value_c: float, units: str = "metric") -> str:
    """A temperature: '12 °C' or '54 °F'."""
    told, unit = (value_c * 1.8 + 32.0, "°F") if units == "us" else (value_c, "°C")
    return f"{told:.0f} {unit}".replace("-", "−")


def capital(words: str) -> str:
    """Words as a sentence begins; a star's small Greek letter stays small."""
    return words if "α" <= words[:1] <= "ω" else words[:1].upper() + words[1:]


def small(words: str) -> str:
    """Words as a sentence goes on."""
    return words[:1].lower() + words[1:]


def one_and_another(names: Sequence[str]) -> str:
    """Names in a row: 'M45, Albireo and Saturn'; at least one."""
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else names[0]


def magnitude(value: float) -> str:
    """A brightness as '5.4', or '−1.4' with a true minus sign, without its unit."""
    text = f"{abs(value):.1f}"
    return f"−{text}" if value < 0 and float(text) != 0 else text


def clock_face(angle_deg: float) -> str:
    """An angle clockwise from the top as an hour of the dial, 'midway from 4 to 5'."""
    return dial_hour((angle_deg % 360) / 30)


# Between two hours of a dial: up to which part of the way what is said.
_BETWEEN = (
    (0.04, "{0}"), (0.25, "just past {0}"), (0.42, "a third past {0}"),
    (0.58, "midway from {0} to {1}"), (0.75, "a third short of {1}"), (0.96, "just before {1}"),
)  # fmt: skip


def dial_hour(hour: float) -> str:
    """An hour of a dial within (0, 12], 12 at the top, so that nobody takes it for a time.

    'just past 7'; within an eighth of the way from one hour to the next (4 degrees).
    """
    whole = math.floor(hour)
    names = [(whole + k) % 12 or 12 for k in (0, 1)]
    for limit, said in _BETWEEN:
        if hour - whole < limit:
            return said.format(*names)
    return str(names[1])


def dial_place(hour: float) -> str:
    """The same with the word that goes before it: 'at 7', 'just past 7'."""
    said = dial_hour(hour)
    return f"at {said}" if said.isdigit() else said


def chance_words(chance: float) -> str:
    """A chance as people say it: '88 %'; near certain and near nothing as such."""
    if chance >= 0.975:
        return "nearly certain"
    if chance < 0.05:
        return "hardly any"
    return f"{100.0 * chance:.0f} %"


def signed(value: float, places: int = 1) -> str:
    """A number with its sign, a true minus, never '-0.0'."""
    text = f"{abs(value):.{places}f}"
    return f"{'−' if value < 0 and float(text) else '+'}{text}"


def stops_counted(count: int) -> str:
    """'1 stop', '7 stops'."""
    return f"{count} stop" if count == 1 else f"{count} stops"
