"""What is the object that a person means by this name?

Public: ``SkyObject``, ``find(text)``, ``coloured_stars()``; the whole lists as arrays:
``stars``, ``pole_stars``, ``StarArrays`` (star_list), ``deep_sky``, ``DeepSkyArrays`` (deep_sky),
``doubles``, ``DoubleArrays`` (doubles), and one row of them as an object: ``deep_sky_object``,
``double_object``, ``star_object``.  Lists are read when first asked for: a star by its name never
reads the deep-sky catalogue.
"""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.sky.catalogue import deep_sky as _deep_sky
from axletree.sky.catalogue import doubles as _doubles
from axletree.sky.catalogue import star_names as _star_names
from axletree.sky.catalogue import stars as _star_list
from axletree.sky.catalogue.deep_sky import DeepSkyArrays, deep_sky
from axletree.sky.catalogue.doubles import DoubleArrays, doubles
from axletree.sky.catalogue.everyday import meant_by
from axletree.sky.catalogue.names import fold, fold_designation
from axletree.sky.catalogue.stars import StarArrays, pole_stars, stars
from axletree.sky.orbits.orbit import Orbit

__all__ = [
    "DeepSkyArrays",
    "DoubleArrays",
    "SkyObject",
    "StarArrays",
    "coloured_stars",
    "deep_sky",
    "deep_sky_object",
    "double_object",
    "doubles",
    "find",
    "pole_stars",
    "star_object",
    "stars",
]

BODIES = {
    "sun": "sun", "moon": "moon", "mercury": "planet", "venus": "planet", "mars": "planet",
    "jupiter": "planet", "saturn": "planet", "uranus": "planet", "neptune": "planet",
}  # fmt: skip


@dataclass(frozen=True)
class SkyObject:
    """One thing in the sky; a field is None where the fact is unknown or has no meaning.

    ``kind``: 'star', 'double star', 'planet', 'sun', 'moon', or a deep-sky kind in plain words.
    ``ra_deg, dec_deg``: ICRS at the year ``epoch_year``; None for Sun, Moon and planets.
    ``magnitude_v`` of a double star is that of its brighter star; ``magnitude_guessed``: V was
    estimated from B.  ``common_names``: what else it is called, the usual first.
    ``separation_arcsec`` and ``position_angle_deg`` of a double star are those of the year
    ``pair_year``; for a deep-sky object the angle is that of its long axis; both from north
    through east.  ``orbit`` of a comet or a minor planet says where it goes; its place here is
    that of the moment to which the orbit holds, from the Earth's centre.  ``note``: what a person
    sees, or ''.
    """

    name: str
    kind: str
    ra_deg: float | None = None
    dec_deg: float | None = None
    pm_ra_cosdec_mas_yr: float = 0.0
    pm_dec_mas_yr: float = 0.0
    parallax_mas: float = 0.0
    radial_velocity_km_s: float = 0.0
    epoch_year: float = 2000.0
    magnitude_v: float | None = None
    magnitude_guessed: bool = False
    size_major_arcmin: float | None = None
    size_minor_arcmin: float | None = None
    position_angle_deg: float | None = None
    surface_brightness_mag_arcsec2: float | None = None
    colour_bv: float | None = None
    separation_arcsec: float | None = None
    companion_magnitude_v: float | None = None
    companion_colour_bv: float | None = None
    pair_year: float | None = None
    messier: str | None = None
    common_names: tuple[str, ...] = ()
    constellation: str | None = None
    catalogue_id: str = ""
    note: str = ""
    orbit: Orbit | None = None


def find(text: str) -> SkyObject:
    """The object of this name or designation.

    Takes 'Vega', 'alpha Lyr', 'α Lyrae', '61 Cygni', 'HIP 11767', 'M31', 'NGC 7000', 'IC 434',
    'Ring Nebula', 'Jupiter', 'Sun', 'Moon', and what people say for them ('the Moon', 'Whirlpool');
    capitals, accents and spaces make no difference. Refuses an unknown name, with the nearest known
    ones.
    """
    if not fold(text):
        raise AxletreeError("no object named: give a name such as 'Vega', 'M13' or 'Saturn'")
    for name in meant_by(text):
        if (found := _found(name)) is not None:
            return found
    raise AxletreeError(f"no object named {text.strip()!r} is known{_suggestion(text)}")


def _found(text: str) -> SkyObject | None:
    folded = fold(text)
    if folded in BODIES:
        return SkyObject(name=folded.capitalize(), kind=BODIES[folded], catalogue_id=folded)
    hip = _star_names.hip_of(text)
    if match := re.fullmatch(r"hip(\d{1,6})", folded):
        hip = int(match[1])
    if hip is not None:
        return star_object(hip)
    if (row := _deep_sky.find_row(text)) is not None:
        return _deep_sky_object(row)
    if (pair := _doubles.row_named(text)) is not None:
        return double_object(pair)
    return None


def star_object(hip: int) -> SkyObject:
    """The star of this HIP number, with its companion if it is in the list of doubles.

    Refuses a number that is not in the list (fainter than V 9, or no such star).
    """
    at = _star_list.star_index(hip)
    if at is None:
        raise AxletreeError(f"HIP {hip} is not in the star list: too faint (V over 9) or no star")
    row = _star_list.hipparcos_table()[at]
    names = _star_names.names_of(hip)
    common: dict[str, Any] = {
        "ra_deg": float(row["ra_deg"]),
        "dec_deg": float(row["dec_deg"]),
        "pm_ra_cosdec_mas_yr": float(row["pm_ra_cosdec_mas_yr"]),
        "pm_dec_mas_yr": float(row["pm_dec_mas_yr"]),
        "parallax_mas": float(row["parallax_mas"]),
        "radial_velocity_km_s": float(row["radial_velocity_km_s"]),
        "constellation": row["constellation"].decode(),
        "catalogue_id": f"HIP {hip}",
        "common_names": names[1:],
    }
    pair = _doubles.row_of_hip(hip)
    if pair is not None:
        facts = _pair_facts(pair)
        common["common_names"] = names[1:] or tuple(str(doubles().names[pair]).split(";")[1:])
        return SkyObject(name=str(doubles().name[pair]), **common, **facts)
    return SkyObject(
        name=names[0] if names else f"HIP {hip}",
        kind="star",
        magnitude_v=round(float(row["magnitude_v"]), 3),
        colour_bv=_known(round(float(row["colour_bv"]), 3)),
        **common,
    )


def double_object(at: int) -> SkyObject:
    """The pair in row `at` of ``doubles()``."""
    pairs = doubles()
    if pairs.hip[at]:
        return star_object(int(pairs.hip[at]))
    return SkyObject(
        name=str(pairs.name[at]),
        ra_deg=float(pairs.ra_deg[at]),
        dec_deg=float(pairs.dec_deg[at]),
        constellation=str(pairs.constellation[at]),
        common_names=tuple(str(pairs.names[at]).split(";")[1:]),
        catalogue_id=str(pairs.name[at]),
        **_pair_facts(at),
    )


def deep_sky_object(at: int) -> SkyObject:
    """The object in row `at` of ``deep_sky()``."""
    return _deep_sky_object(_deep_sky.row(at))


def coloured_stars() -> list[SkyObject]:
    """Stars worth showing for their colour alone, reddest first."""
    found = [star_object(hip) for hip in _star_names.coloured_hips()]
    return sorted(found, key=lambda star: -(star.colour_bv or 0.0))


# The Magellanic Clouds: nobody says their numbers.
_SAID_BY_NAME = frozenset(("ESO 56-115", "NGC 292"))


def _deep_sky_object(row: list[str]) -> SkyObject:
    facts = dict(zip((field.name for field in fields(DeepSkyArrays)), row, strict=True))

    def number(name: str) -> float | None:
        return float(facts[name]) if facts[name] else None

    called = [word for word in facts["names"].split(";") if word]
    name = facts["messier"] or facts["catalogue_id"]
    if facts["catalogue_id"] in _SAID_BY_NAME:
        called.append(name)
        name = called[0]
    return SkyObject(
        name=name,
        kind=facts["kind"],
        ra_deg=number("ra_deg"),
        dec_deg=number("dec_deg"),
        magnitude_v=number("magnitude_v_guess"),
        magnitude_guessed=not facts["magnitude_v"] and bool(facts["magnitude_v_guess"]),
        size_major_arcmin=number("size_major_arcmin"),
        size_minor_arcmin=number("size_minor_arcmin"),
        position_angle_deg=number("position_angle_deg"),
        surface_brightness_mag_arcsec2=number("surface_brightness_mag_arcsec2"),
        messier=facts["messier"] or None,
        common_names=tuple(word for word in called if word != name),
        constellation=facts["constellation"],
        catalogue_id=facts["catalogue_id"],
    )


def _pair_facts(at: int) -> dict[str, Any]:
    pairs = doubles()
    return {
        "kind": "double star",
        "magnitude_v": _known(pairs.magnitude_v[at]),
        "colour_bv": _known(pairs.colour_bv[at]),
        "separation_arcsec": _known(pairs.separation_arcsec[at]),
        "position_angle_deg": _known(pairs.position_angle_deg[at]),
        "companion_magnitude_v": _known(pairs.companion_magnitude_v[at]),
        "companion_colour_bv": _known(pairs.companion_colour_bv[at]),
        "pair_year": _known(pairs.year[at]),
        "note": str(pairs.note[at]),
    }


def _known(value: float) -> float | None:
    return None if value != value else float(value)


def _suggestion(text: str) -> str:
    """'; nearest: Vega, Veil Nebula' or ''."""
    import difflib

    if fold_designation(text):
        return "; Bayer letters and Flamsteed numbers are known for the brighter stars only"
    known = {fold(body): body.capitalize() for body in BODIES}
    known |= {fold(name): name for name in _deep_sky.all_names()}
    known |= {fold(name): name for name in _star_names.all_names()}
    close = difflib.get_close_matches(fold(text), list(known), n=3, cutoff=0.6)
    if close:
        return "; nearest: " + ", ".join(known[word] for word in close)
    return "; try a star's name, 'M13', 'NGC 7000', 'HIP 11767', a planet, 'Sun' or 'Moon'"
