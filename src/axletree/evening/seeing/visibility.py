"""How well can an object be seen: by how many magnitudes, through which eyepiece?

Public: ``Looks``, ``sort_of_kinds``, ``trusted_magnitude``, ``margins``,
``suiting_view``, ``shows_through_thin_cloud``, ``Visibility``, ``visibility_of``.

Glows (nebulae, galaxies, globular clusters) are held against the eye's contrast threshold behind
the telescope (`contrast`), stars against the faintest star it shows, open clusters against both,
double stars also against aperture, seeing and the eye. What is not known (a size, a magnitude)
gives nan, never a guess in disguise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from axletree.evening.seeing.eyepiece import Extents, Views, best_view
from axletree.evening.seeing.light_profile import PARTS, light_within
from axletree.evening.seeing.line_filters import FILTERS
from axletree.evening.seeing.pairs import clearly_apart_mag
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.kit.parts.site import RURAL_ZENITH_MAG
from axletree.kit.parts.tube import LineFilter
from axletree.sky.air.brightness import extinction_mag_per_airmass
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.contrast import (
    ARCMIN2_SR,
    FIELD_FACTOR,
    Optics,
    magnitude_margin,
    point_limit_mag,
)

EXTENDED, CLUSTER, POINT, PAIR, BODY, GALAXY, GLOBULAR, LIT = range(8)
GLOWS = (EXTENDED, GALAXY, GLOBULAR, LIT)

SORTS = {
    "star": POINT,
    "nova": POINT,
    "minor planet": POINT,
    "double star": PAIR,
    "sun": BODY,
    "moon": BODY,
    "planet": BODY,
    "open cluster": CLUSTER,
    "star cloud": CLUSTER,
    "cluster with nebula": CLUSTER,
    "globular cluster": GLOBULAR,
    "galaxy": GALAXY,
    "nebula": LIT,
    "emission nebula": LIT,
}

# Where the tenth star of an open cluster isn't listed, it is fainter than the total light by this
# much: ours, from the clusters whose tenth star is known.
TENTH_STAR_MAG = 3.0

# How the light of a sort gathers where the catalogue doesn't say: the part of the long diameter
# that holds half of it, and the index of the profile (nan: Plummer). What is not named is taken as
# evenly lit. Galaxies: the usual part of the isophote, and a spiral's index; globular clusters:
# half-light radii of W. E. Harris 1996, AJ 112, 1487, over catalogued ones; nebulae lit by a star
# or a cluster within, and clusters of stars: ours.
USUAL_LIGHT = {
    GALAXY: (0.35, 1.7),
    GLOBULAR: (0.2, np.nan),
    LIT: (0.3, 1.0),
    CLUSTER: (0.55, 0.5),
}

# A gain from which people screw a filter in (ours).
WORTH_A_FILTER_MAG = 0.3
USUAL_AIRMASS = 1.3  # that of 50 degrees
SURE = 9.0  # margin of the Moon and the planets, in magnitudes


@dataclass(frozen=True)
class Looks:
    """What is known of n objects' looks: arrays (n,), nan where it is not known.

    `sort` is one of EXTENDED, CLUSTER ... LIT (see `sort_of_kinds`). Magnitudes are V before
    extinction; a pair's is the brighter star's. A missing `minor_arcmin` counts as round.
    `half_light_arcmin` is the long diameter of the part that holds half of the light, `axis_ratio`
    its short over its long one, `profile_index` how the light gathers (see `light_profile`);
    `tenth_star` the V of an open cluster's tenth star. `oxygen`, `hydrogen`: the parts of the light
    that the dark-adapted eye meets in the lines of O III and in H-beta (nan: none to speak of).
    """

    sort: NDArray[np.int8]
    magnitude: Floats
    major_arcmin: Floats
    minor_arcmin: Floats
    separation_arcsec: Floats
    companion: Floats
    half_light_arcmin: Floats
    axis_ratio: Floats
    profile_index: Floats
    tenth_star: Floats
    oxygen: Floats
    hydrogen: Floats

    def take(self, rows: Indices) -> Looks:
        """The looks of the objects at these rows."""
        return Looks(**{name: column[rows] for name, column in vars(self).items()})


def sort_of_kinds(kinds: Sequence[str]) -> NDArray[np.int8]:
    """How objects of these kinds are judged; kinds that are not named are glows (EXTENDED).

    Clusters with nebula are judged by the stars or by the glow, whichever shows.
    """
    return np.array([SORTS.get(kind, EXTENDED) for kind in kinds], dtype=np.int8)


@dataclass(frozen=True)
class _Half:
    """How the light of n objects gathers: long diameter of the half, its axis ratio, the index."""

    major_arcmin: Floats
    axis_ratio: Floats
    index: Floats
    gathers: Mask  # False where the light is even, as far as anybody knows


def _half_of(looks: Looks) -> _Half:
    """As catalogued, else as is usual for the sort."""
    minor = np.where(np.isfinite(looks.minor_arcmin), looks.minor_arcmin, looks.major_arcmin)
    known = np.isfinite(looks.half_light_arcmin)
    share, usual = np.full(len(known), np.nan), np.full(len(known), np.nan)
    for code, (part, its_index) in USUAL_LIGHT.items():
        share[looks.sort == code], usual[looks.sort == code] = part, its_index
    major = np.where(known, looks.half_light_arcmin, looks.major_arcmin * share)
    ratio = np.where(known, looks.axis_ratio, minor / looks.major_arcmin)
    index = np.where(np.isfinite(looks.profile_index), looks.profile_index, usual)
    return _Half(major, np.clip(ratio, 0.1, 1.0), index, known | np.isfinite(share))


def bright_part_arcmin(looks: Looks) -> Floats:
    """Diameter of the part that holds half of the light; the whole where it is evenly spread."""
    half = _half_of(looks)
    return np.where(half.gathers, half.major_arcmin, looks.major_arcmin)


def extents_of(looks: Looks) -> Extents:
    """What the choice of an eyepiece needs to know of objects (n,)."""
    return Extents(
        size_arcmin=looks.major_arcmin,
        detail_arcmin=bright_part_arcmin(looks),
        separation_arcsec=looks.separation_arcsec,
        glow=np.isin(looks.sort, GLOWS),
        body=looks.sort == BODY,
    )


def extinction_of(kit: Kit) -> float:
    """Magnitudes an airmass takes at the kit's site: as given, or clear air at its elevation."""
    given = kit.site.extinction_mag_per_airmass
    return float(extinction_mag_per_airmass(kit.site.elevation_m)) if given is None else given


def margins(kit: Kit, looks: Looks, views: Views, sky_mag: Floats, airmass: Floats) -> Floats:
    """Magnitudes above the threshold, (e, n, m): eyepieces, objects, instants.

    `sky_mag` (mag/arcsec2 behind the object) and `airmass` are (n, m). nan where the object's
    light or size isn't known; the Moon and the planets always show and have margin `SURE`. Through
    the kit's line filters where they help.
    """
    optics = Optics(
        kit.tube.aperture_mm,
        views.magnification[:, np.newaxis, np.newaxis],
        kit.tube.transmission * (1.0 - (kit.tube.obstruction_mm / kit.tube.aperture_mm) ** 2),
    )
    out = _margins(kit, looks, optics, sky_mag, airmass)
    pairs = np.flatnonzero(looks.sort == PAIR)
    apart = clearly_apart_mag(
        kit,
        looks.separation_arcsec[pairs],
        looks.companion[pairs] - looks.magnitude[pairs],
        views.magnification,
    )
    out[:, pairs] = np.minimum(out[:, pairs], apart[:, :, np.newaxis])
    rows = np.flatnonzero(np.isfinite(looks.oxygen))
    for name in kit.tube.line_filters if len(rows) else ():
        part = looks.take(rows)
        passed = FILTERS[name].passed(part.oxygen, part.hydrogen)
        dimmed = replace(part, magnitude=part.magnitude - 2.5 * np.log10(passed))
        sky = sky_mag[rows] - 2.5 * np.log10(FILTERS[name].sky_passed)
        taken = extinction_of(kit) * np.where(np.isfinite(airmass[rows]), airmass[rows], 40.0)
        through = _glow_margins(kit, dimmed, np.arange(len(rows)), optics, sky, taken)
        out[:, rows] = np.fmax(out[:, rows], through)
    return out


def filters_worn(
    kit: Kit, looks: Looks, views: Views, eyepiece: Indices, sky_mag: Floats, airmass: Floats
) -> list[str]:
    """For objects (n,) in their own eyepieces the kit's line filter that shows most, "" where none
    is worth its trouble. `sky_mag` and `airmass` are (n,)."""
    each, sky, air = np.arange(len(looks.sort)), sky_mag[:, np.newaxis], airmass[:, np.newaxis]

    def with_filters(filters: tuple[LineFilter, ...]) -> Floats:
        tube = kit.tube.model_copy(update={"line_filters": filters})
        one = kit.model_copy(update={"tube": tube})
        found = margins(one, looks, views, sky, air)[eyepiece, each, 0]
        return np.asarray(np.nan_to_num(found, nan=-9.0))

    filters = kit.tube.line_filters
    found = np.array([with_filters(()), *(with_filters((name,)) for name in filters)])
    gained = found.max(axis=0) - found[0] >= WORTH_A_FILTER_MAG
    best = np.where(gained, found.argmax(axis=0), 0)
    names = ("", *filters)
    return [names[int(k)] for k in best]


def suiting_view(kit: Kit, looks: Looks, views: Views) -> Indices:
    """The eyepiece (n,) that suits each object.

    It is chosen under the sky of a kit that says nothing and in usual air, whatever tonight's sky
    is: else a brighter sky could mean another eyepiece and a better margin.
    """
    n = len(looks.sort)
    sky, air = np.full((n, 1), RURAL_ZENITH_MAG), np.full((n, 1), USUAL_AIRMASS)
    usual = np.nan_to_num(margins(kit, looks, views, sky, air)[:, :, 0], nan=-9.0)
    return best_view(kit, views, usual, extents_of(looks))


def finder_margins(
    kit: Kit, looks: Looks, optics: Optics, sky_mag: Floats, airmass: Floats
) -> Floats:
    """The same (n, m) through a finder's optics, where a pair needs only its brighter star."""
    single = np.where(looks.sort == PAIR, POINT, looks.sort).astype(looks.sort.dtype)
    power = np.asarray(optics.magnification, dtype=np.float64).reshape(1, 1, 1)
    through = replace(optics, magnification=power)
    return np.asarray(_margins(kit, replace(looks, sort=single), through, sky_mag, airmass)[0])


def _margins(kit: Kit, looks: Looks, optics: Optics, sky_mag: Floats, airmass: Floats) -> Floats:
    """Magnitudes above the threshold, (e, n, m), a pair's two stars not told apart."""
    taken = extinction_of(kit) * np.where(np.isfinite(airmass), airmass, 40.0)
    out = np.full((np.asarray(optics.magnification).shape[0], *sky_mag.shape), np.nan)
    out[:, looks.sort == BODY] = SURE
    stars = np.flatnonzero(np.isin(looks.sort, (POINT, PAIR, CLUSTER)))
    out[:, stars] = _star_margins(kit, looks, stars, optics, sky_mag, taken)
    glows = np.flatnonzero(np.isin(looks.sort, (*GLOWS, CLUSTER)))
    glow = _glow_margins(kit, looks, glows, optics, sky_mag, taken)
    out[:, glows] = np.fmax(out[:, glows], glow)
    return out


def _star_margins(
    kit: Kit, looks: Looks, rows: Indices, optics: Optics, sky_mag: Floats, taken: Floats
) -> Floats:
    """Against the faintest star that shows: the star, the companion, the cluster's members."""
    sort = looks.sort[rows]
    magnitude = np.where(sort == PAIR, looks.companion[rows], looks.magnitude[rows])
    tenth = looks.tenth_star[rows]
    tenth = np.where(np.isfinite(tenth), tenth, magnitude + TENTH_STAR_MAG)
    magnitude = np.where(sort == CLUSTER, tenth, magnitude)
    factor = FIELD_FACTOR[kit.habits.observer]
    limit = point_limit_mag(sky_mag[rows][np.newaxis], optics, factor, kit.site.seeing_arcsec)
    return np.asarray(limit - (magnitude[:, np.newaxis] + taken[rows])[np.newaxis])


def _glow_margins(
    kit: Kit, looks: Looks, rows: Indices, optics: Optics, sky_mag: Floats, taken: Floats
) -> Floats:
    """Against the contrast threshold: the whole evenly, or whichever inner part shows best."""
    major = looks.major_arcmin[rows]
    minor = np.where(np.isfinite(looks.minor_arcmin[rows]), looks.minor_arcmin[rows], major)
    half = _half_of(looks.take(rows))
    factor = FIELD_FACTOR[kit.habits.observer]
    even = np.where(half.gathers, np.nan, np.pi / 4.0 * major * minor)

    def held(area_arcmin2: Floats, light: Floats | float) -> Floats:
        surface = looks.magnitude[rows] - 2.5 * np.log10(light)
        surface = surface + 2.5 * np.log10(area_arcmin2 * 3600.0)
        return magnitude_margin(
            (surface[:, np.newaxis] + taken[rows])[np.newaxis],
            sky_mag[rows][np.newaxis],
            (area_arcmin2 * ARCMIN2_SR)[np.newaxis, :, np.newaxis],
            optics,
            factor,
        )

    out = held(even, 1.0)
    whole = np.pi / 4.0 * half.major_arcmin**2 * half.axis_ratio
    shares = light_within(half.index[:, np.newaxis], np.array(PARTS))
    for k, part in enumerate(PARTS):
        out = np.fmax(out, held(np.where(half.gathers, whole * part**2, np.nan), shares[:, k]))
    return out
