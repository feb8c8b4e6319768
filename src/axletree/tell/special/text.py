"""In which sentences is told what makes a night special, and when to look?"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from axletree.sky.special.kinds import (
    MOON_ECLIPSES,
    SUN_ECLIPSES,
    FigureKind,
    MomentKind,
    NamedMoment,
    SpecialKind,
    SpecialNight,
)
from axletree.sky.special.moon_eclipses import FAINT_PENUMBRAL_MAGNITUDE
from axletree.sky.special.thin_moon import CrescentClass, crescent_class
from axletree.tell.shared.words import capital, clock, compass_point, magnitude

# With every line about an eclipse of the Sun, whole: nobody reads the other page first.
SUN_CAUTION = (
    "Never look at the Sun, eclipsed or not, without a filter made for it: eclipse glasses for the "
    "bare eye, a sound solar filter over the front of the tube and of the finder, or the finder "
    "capped. A filter at the eyepiece cracks. One look through a bare tube or finder blinds at "
    "once, and without pain; nobody is left alone at the tube."
)
_ECLIPSES = {
    SpecialKind.MOON_ECLIPSE_PENUMBRAL: "penumbral eclipse of the Moon",
    SpecialKind.MOON_ECLIPSE_PARTIAL: "partial eclipse of the Moon",
    SpecialKind.MOON_ECLIPSE_TOTAL: "total eclipse of the Moon",
    SpecialKind.SUN_ECLIPSE_PARTIAL: "partial eclipse of the Sun",
    SpecialKind.SUN_ECLIPSE_ANNULAR: "annular eclipse of the Sun",
    SpecialKind.SUN_ECLIPSE_TOTAL: "total eclipse of the Sun",
}
_MOMENTS = {
    MomentKind.PENUMBRA_BEGINS: "penumbra from",
    MomentKind.PARTIAL_BEGINS: "partial from",
    MomentKind.TOTAL_BEGINS: "total from",
    MomentKind.GREATEST: "greatest",
    MomentKind.TOTAL_ENDS: "total until",
    MomentKind.PARTIAL_ENDS: "partial until",
    MomentKind.PENUMBRA_ENDS: "penumbra until",
    MomentKind.DISAPPEARS: "disappears",
    MomentKind.REAPPEARS: "reappears",
    MomentKind.CLOSEST: "closest",
    MomentKind.EXACT: "exact",
    MomentKind.BEST: "best seen",
}
_CRESCENTS = {
    CrescentClass.EASY: "easily seen",
    CrescentClass.CLEAR_AIR: "seen in very clear air",
    CrescentClass.FIND_BY_GLASS: "binoculars, with the Sun down, may have to find it first",
    CrescentClass.GLASS_ONLY: "in a telescope only",
    CrescentClass.NOT_SEEN: "not to be seen",
}


def body_words(name: str) -> str:
    """'the Moon', 'Jupiter', 'Regulus', 'M45'."""
    if name in ("moon", "sun"):
        return f"the {name.title()}"
    return name.title() if name.islower() else name


def special_title(night: SpecialNight, zone: ZoneInfo) -> str:
    """What it is, in half a line: 'partial eclipse of the Moon, greatest 00:13'."""
    if night.kind in _ECLIPSES:
        word = "greatest" if night.greatest.kind is MomentKind.GREATEST else "best seen"
        return f"{_ECLIPSES[night.kind]}, {word} {clock(night.greatest.time, zone)}"
    first, other = body_words(night.bodies[0]), body_words(night.bodies[-1])
    at = clock(night.greatest.time, zone)
    said: dict[SpecialKind, Callable[[], str]] = {
        SpecialKind.MEETING: lambda: f"{first} and {other} in one field, closest {at}",
        SpecialKind.OCCULTATION: lambda: f"{first} hides {other}, {_hides(night, zone)}",
        SpecialKind.OPPOSITION: lambda: f"{first} stands opposite the Sun, up all night",
        SpecialKind.ELONGATION_EVENING: lambda: f"{first} farthest from the Sun, in the evening",
        SpecialKind.ELONGATION_MORNING: lambda: f"{first} farthest from the Sun, in the morning",
        SpecialKind.RINGS_EDGE_TO_EARTH: lambda: "Saturn's rings edge-on",
        SpecialKind.RINGS_EDGE_TO_SUN: lambda: "Saturn's rings edge-on to the Sun",
        SpecialKind.METEORS: lambda: f"{first}, best {at}",
        SpecialKind.THIN_MOON: lambda: f"first thin Moon, best {at}",
    }
    return said[night.kind]()


def special_short(night: SpecialNight) -> str:
    """What it is, in two words or three, where there is little room."""
    first, other = body_words(night.bodies[0]), body_words(night.bodies[-1])
    if night.kind in _ECLIPSES:
        return "eclipse of the Sun" if night.of_the_sun else "eclipse of the Moon"
    return {
        SpecialKind.MEETING: f"{first} by {other}".removeprefix("the "),
        SpecialKind.OCCULTATION: f"{other} hidden",
        SpecialKind.OPPOSITION: f"{first} opposite",
        SpecialKind.ELONGATION_EVENING: f"{first} at evening",
        SpecialKind.ELONGATION_MORNING: f"{first} at morning",
        SpecialKind.RINGS_EDGE_TO_EARTH: "rings edge-on",
        SpecialKind.RINGS_EDGE_TO_SUN: "rings edge-on",
        SpecialKind.METEORS: first,
        SpecialKind.THIN_MOON: "thin Moon",
    }[night.kind]


def special_name(kind: SpecialKind, bodies: Sequence[str]) -> str:
    """An eclipse's name, else who takes part: 'the Moon and Regulus'."""
    if kind in _ECLIPSES:
        return _ECLIPSES[kind]
    return f"{body_words(bodies[0])} and {body_words(bodies[-1])}"


def moment_words(kind: MomentKind, time: datetime, zone: ZoneInfo) -> str:
    """'partial from 22:34', 'disappears 21:03'."""
    return f"{_MOMENTS[kind]} {clock(time, zone)}"


def _hides(night: SpecialNight, zone: ZoneInfo) -> str:
    """From when to when, as far as it is seen."""
    seen = [m for m in night.moments if m.seen]
    if len(seen) == 2:
        return f"{clock(seen[0].time, zone)} to {clock(seen[1].time, zone)}"
    word = "it goes" if seen[0].kind is MomentKind.DISAPPEARS else "it comes out"
    return f"{word} {clock(seen[0].time, zone)}"


def special_words(night: SpecialNight, zone: ZoneInfo) -> str:
    """The whole of it in one or two sentences, without the caution."""
    return f"{capital(special_title(night, zone))}. {special_details(night, zone)}"


def tonight_words(night: SpecialNight, day: date, zone: ZoneInfo) -> str:
    """The line at the head of a run sheet: 'Tonight: partial eclipse of the Moon, greatest 00:13.'

    A meeting that is closest on another evening says on which.
    """
    title = tonight_title(night, day, zone)
    return f"{'Today' if night.of_the_sun else 'Tonight'}: {title}."


def tonight_title(night: SpecialNight, day: date, zone: ZoneInfo) -> str:
    """The title; of a meeting that is closest on another evening, with that day."""
    title = special_title(night, zone)
    if night.kind is SpecialKind.MEETING and night.day != day:
        return f"{title.rsplit(', closest', 1)[0]}, closest on {_day(night.day)}"
    return title


def special_caution(night: SpecialNight, sun_filters: bool) -> str:
    """The whole caution of an eclipse of the Sun, and what this kit plans of it; else ''."""
    if not night.of_the_sun:
        return ""
    stop = (
        "This kit names filters for tube and finder: the Sun's own disc may be shown, and nothing "
        "beside it."
        if sun_filters
        else "This kit names no solar filters for both tube and finder: no stop at the "
        "Sun is planned."
    )
    return f"{SUN_CAUTION} {stop}"


def moon_in_shadow_words(night: SpecialNight, zone: ZoneInfo) -> str | None:
    """What the Moon is tonight in the place of 'full', where it goes into the umbra."""
    begin, end = (night.moment(k) for k in (MomentKind.PARTIAL_BEGINS, MomentKind.PARTIAL_ENDS))
    if night.kind not in MOON_ECLIPSES or begin is None or end is None:
        return None
    whole = "eclipsed" if night.kind is SpecialKind.MOON_ECLIPSE_TOTAL else "partly eclipsed"
    return f"{whole} {clock(begin.time, zone)} to {clock(end.time, zone)}"


def special_details(night: SpecialNight, zone: ZoneInfo) -> str:
    """Its figures and moments, a sentence or two."""
    if night.kind in MOON_ECLIPSES:
        return _moon_eclipse(night, zone)
    if night.kind in SUN_ECLIPSES:
        return _sun_eclipse(night, zone)
    return {
        SpecialKind.MEETING: _meeting,
        SpecialKind.OCCULTATION: _occultation,
        SpecialKind.METEORS: _meteors,
        SpecialKind.THIN_MOON: _thin_moon,
    }.get(night.kind, _planet)(night, zone)


def _contact(moment: NamedMoment, zone: ZoneInfo) -> str:
    below = "" if moment.seen else " (not seen here)"
    return f"{moment_words(moment.kind, moment.time, zone)}{below}"


def _error(moments: tuple[NamedMoment, ...]) -> str:
    """The largest error of the contacts."""
    worst = max(m.doubt_s for m in moments)
    return f"±{worst:.0f} s" if worst < 90.0 else f"±{worst / 60.0:.0f} min"


def _moon_eclipse(night: SpecialNight, zone: ZoneInfo) -> str:
    told = "; ".join(_contact(m, zone) for m in night.moments)
    if night.kind is SpecialKind.MOON_ECLIPSE_PENUMBRAL:
        depth = _figure(night, FigureKind.PENUMBRAL_MAGNITUDE)
        faint = (
            ", hardly to be seen"
            if depth < FAINT_PENUMBRAL_MAGNITUDE
            else ", a grey shade at one edge"
        )
        return f"The outer shadow only{faint}. {capital(told)}; {_error(night.moments)}."
    depth = _figure(night, FigureKind.UMBRAL_MAGNITUDE)
    return (
        f"Magnitude {depth:.2f} (of the Moon's diameter, Danjon's shadow). "
        f"{capital(told)}; {_error(night.moments)}."
    )


def _sun_eclipse(night: SpecialNight, zone: ZoneInfo) -> str:
    told = "; ".join(
        _contact(m, zone)
        if night.kind is not SpecialKind.SUN_ECLIPSE_ANNULAR
        else _contact(m, zone).replace("total", "ring")
        for m in night.moments
    )
    covered = _figure(night, FigureKind.SUN_COVERED) * 100.0
    return f"{covered:.0f} % of the Sun covered. {capital(told)}; {_error(night.moments)}."


def _meeting(night: SpecialNight, zone: ZoneInfo) -> str:
    apart = _figure(night, FigureKind.SEPARATION_DEG)
    where = f"{_angle(apart)} apart, {_where(night.greatest)}"
    lit = night.figure(FigureKind.MOON_LIT_FRACTION)
    moon = "" if lit is None else f"; Moon {lit.value * 100:.0f} % lit"
    evenings = (
        f"; {_day(night.nights[0])} to {_day(night.nights[-1])}" if len(night.nights) > 1 else ""
    )
    return f"{capital(where)}{moon}{evenings}."


def _occultation(night: SpecialNight, zone: ZoneInfo) -> str:
    told = [
        f"{_contact(m, zone)} at the {m.limb.value} limb, {_where(m)}"
        for m in night.moments
        if m.seen and m.limb is not None
    ]
    grazing = " It grazes the mountains of the edge." if night.grazing else ""
    return f"{capital('; '.join(told))}; {_error(night.moments)}.{grazing}"


def _meteors(night: SpecialNight, zone: ZoneInfo) -> str:
    rate = night.figure(FigureKind.METEORS_PER_HOUR)
    assert rate is not None
    full, high = (
        _figure(night, k) for k in (FigureKind.ZENITH_RATE_PER_HOUR, FigureKind.RADIANT_DEG)
    )
    limit, lit = (_figure(night, k) for k in (FigureKind.LIMIT_MAG, FigureKind.MOON_LIT_FRACTION))
    return (
        f"About {rate.value:.0f} ± {rate.error:.0f} an hour for one pair of eyes under this sky "
        f"(stars to {limit:.1f}, Moon {lit * 100:.0f} % lit), radiant {high:.0f}° high; "
        f"{full:.0f} where the sky is perfect and the radiant overhead."
    )


def _thin_moon(night: SpecialNight, zone: ZoneInfo) -> str:
    age, q = _figure(night, FigureKind.MOON_AGE_H), _figure(night, FigureKind.CRESCENT_Q)
    return (
        f"{age:.0f} h after new Moon, {_where(night.greatest)}; {_CRESCENTS[crescent_class(q)]}. "
        "Only once the Sun has set."
    )


def _planet(night: SpecialNight, zone: ZoneInfo) -> str:
    bright, size = (_figure(night, k) for k in (FigureKind.MAGNITUDE_V, FigureKind.DIAMETER_ARCSEC))
    said = f"Magnitude {magnitude(bright)}, {size:.{0 if size >= 10.0 else 1}f}″ across"
    away = night.figure(FigureKind.ELONGATION_DEG)
    if away is not None:
        said += f", {away.value:.0f}° from the Sun"
    return f"{said}."


def _figure(night: SpecialNight, kind: FigureKind) -> float:
    figure = night.figure(kind)
    return 0.0 if figure is None else figure.value


def _angle(degrees: float) -> str:
    return f"{degrees:.1f}°" if degrees >= 1.0 else f"{degrees * 60.0:.0f}′"


def _where(moment: NamedMoment) -> str:
    return f"{moment.altitude_deg:.0f}° high in the {compass_point(moment.azimuth_deg)}"


def _day(day: date) -> str:
    return f"{day.day} {day:%B}"
