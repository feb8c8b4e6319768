"""How well can an object be seen: by how many magnitudes, through which eyepiece?

Public: ``Looks``, ``sort_of_kinds``, ``trusted_magnitude``, ``margins``, ``pair_needs_arcsec``,
``Visibility``, ``visibility_of``.

Glows (nebulae, galaxies, globular clusters) are held against the eye's contrast threshold behind
the telescope (`contrast`), stars against the faintest star it shows, open clusters against both,
double stars also against aperture, seeing and the eye. What is not known (a size, a magnitude)
gives nan, never a guess in disguise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from axletree.evening.seeing.eyepiece import Extents, Views
from axletree.evening.seeing.light_profile import half_light, inner_parts
from axletree.kit.kit import Kit
from axletree.sky.air.brightness import extinction_mag_per_airmass
from axletree.sky.arrays import Floats, Indices, Mask, Texts
from axletree.sky.contrast import (
    ARCMIN2_SR,
    FIELD_FACTOR,
    Experience,
    Optics,
    magnitude_margin,
    point_limit_mag,
)

EXTENDED, CLUSTER, POINT, PAIR, BODY, DISC, BULGED, ROUND, GLOBULAR, LIT = range(10)
GLOWS = (EXTENDED, DISC, BULGED, ROUND, GLOBULAR, LIT)

SORTS = {
    "star": POINT,
    "nova": POINT,
    "double star": PAIR,
    "sun": BODY,
    "moon": BODY,
    "planet": BODY,
    "open cluster": CLUSTER,
    "star cloud": CLUSTER,
    "cluster with nebula": CLUSTER,
    "globular cluster": GLOBULAR,
    "galaxy": DISC,
    "nebula": LIT,
    "emission nebula": LIT,
}

# Kinds for which B less the usual colour is a fair V: their colours scatter by 0.3 mag.
GUESSED_V_KINDS = ("galaxy", "open cluster")
# These shine in lines that V takes in and B does not: V is no fainter than B, so B stands in. Of
# the other nebulae without V, the B is often that of the star which lights them.
NO_FAINTER_KINDS = ("emission nebula",)
# Pairs and groups of galaxies: one size and one light for several glows say nothing of either.
NO_SURFACE_KINDS = ("galaxy pair", "galaxy triplet", "galaxy group", "dark nebula")
# A galaxy's V that contradicts its catalogued surface brightness and size by more than this is
# a slip of the catalogue.
CONTRADICTION_MAG = 1.5

# An open cluster's brightest members are fainter than its total light by this much: ours, for
# some twenty stars of which the brightest count.
CLUSTER_MEMBERS_MAG = 3.0

# How the light of each sort gathers inwards (`light_inside`), as (part of the diameter, part of
# the light) pairs; what is not named is taken as evenly lit.
_GATHERS = {
    DISC: "late spiral", BULGED: "early spiral", ROUND: "elliptical", GLOBULAR: "globular",
    LIT: "lit from inside",
}  # fmt: skip
INNER_PARTS = {code: inner_parts(name) for code, name in _GATHERS.items()}
HALF_LIGHT = {code: half_light(name) for code, name in _GATHERS.items()}

# Separations at which refractors showed a pair, in arcseconds for an aperture of one inch, by
# difference of magnitude: equal stars after W. R. Dawes 1867, unequal ones after T. Lewis 1914,
# The Observatory 37, 378 (from memory).
_LEWIS_MAG = (0.0, 0.7, 3.3, 5.7)
_LEWIS_ARCSEC_INCH = (4.56, 4.8, 16.5, 36.0)
# Separations, in widths (FWHM) of a round Gaussian seeing disc, at which the fainter of two such
# discs makes a peak of its own, by whole magnitudes of difference.
_BLURRED_APART = (0.849, 1.170, 1.349, 1.494, 1.622, 1.736, 1.842, 1.940, 2.033, 2.120, 2.204)
# The angle at which an eye sees two stars as two: common practice, no source.
EYE_PARTS_ARCSEC: dict[Experience, float] = {"newcomer": 240.0, "practised": 180.0, "expert": 120.0}

SURE = 9.0  # margin of the Moon and the planets, in magnitudes


class Visibility(Enum):
    """How well an object shows to a visitor, from its margin above the threshold."""

    FIRST_GLANCE = "first_glance"
    PLAIN = "plain"
    SOFT = "soft"
    EDGE_OF_SIGHT = "edge_of_sight"
    NOT_SEEN = "not_seen"
    UNKNOWN = "unknown"


# Margins in magnitudes from which an object shows so (ours).
LEAST_MARGINS_MAG = (
    (2.0, Visibility.FIRST_GLANCE),
    (1.0, Visibility.PLAIN),
    (0.4, Visibility.SOFT),
    (0.0, Visibility.EDGE_OF_SIGHT),
)


@dataclass(frozen=True)
class Looks:
    """What is known of n objects' looks: arrays (n,), nan where it is not known.

    `sort` is one of EXTENDED, CLUSTER ... LIT (see `sort_of_kinds`). Magnitudes are V before
    extinction; a pair's is the brighter star's. A missing `minor_arcmin` counts as round.
    """

    sort: NDArray[np.int8]
    magnitude: Floats
    major_arcmin: Floats
    minor_arcmin: Floats
    separation_arcsec: Floats
    companion: Floats


def sort_of_kinds(kinds: Sequence[str], hubble_types: Sequence[str] = ()) -> NDArray[np.int8]:
    """How objects of these kinds are judged; kinds that are not named are glows (EXTENDED).

    With Hubble types, galaxies are told apart: E and S0 are ROUND, Sa to Sb BULGED, the rest
    DISC. Clusters with nebula are judged by the stars or by the glow, whichever shows.
    """
    sort = np.array([SORTS.get(kind, EXTENDED) for kind in kinds], dtype=np.int8)
    for k, hubble in enumerate(hubble_types):
        if sort[k] == DISC and hubble.startswith(("E", "S0")):
            sort[k] = ROUND
        elif sort[k] == DISC and hubble.lstrip("SAB").strip("?") in ("a", "ab", "b"):
            sort[k] = BULGED
    return sort


def bright_part_arcmin(looks: Looks) -> Floats:
    """Diameter of the part that holds half of the light; the whole where it is evenly spread."""
    part = np.ones(len(looks.sort))
    for code, share in HALF_LIGHT.items():
        part[looks.sort == code] = share
    return looks.major_arcmin * part


def extents_of(looks: Looks) -> Extents:
    """What the choice of an eyepiece needs to know of objects (n,)."""
    return Extents(
        size_arcmin=looks.major_arcmin,
        detail_arcmin=bright_part_arcmin(looks),
        separation_arcsec=looks.separation_arcsec,
        glow=np.isin(looks.sort, GLOWS),
        body=looks.sort == BODY,
    )


def trusted_magnitude(
    kinds: Texts,
    magnitude_v: Floats,
    guessed_v: Floats,
    magnitude_b: Floats,
    surface_b: Floats | None = None,
    area_arcmin2: Floats | None = None,
) -> Floats:
    """V as catalogued; from B where that is sound for the kind; nan otherwise.

    Galaxies and open clusters: `guessed_v` (B less the usual colour of the kind). Emission
    nebulae: B itself, for V is no fainter. With the catalogued surface brightness (B, galaxies)
    and area, a galaxy's V that contradicts them gives way to its B, or to nan if that does too.
    """
    v = np.where(np.isfinite(magnitude_v), magnitude_v, np.nan)
    v = np.where(np.isnan(v) & np.isin(kinds, GUESSED_V_KINDS), guessed_v, v)
    v = np.where(np.isnan(v) & np.isin(kinds, NO_FAINTER_KINDS), magnitude_b, v)
    if surface_b is not None and area_arcmin2 is not None:
        whole_b = surface_b - 2.5 * np.log10(area_arcmin2 * 3600.0)
        colour = float(np.nanmedian((magnitude_b - magnitude_v)[kinds == "galaxy"]))
        wrong = (kinds == "galaxy") & (np.abs(v - (whole_b - colour)) > CONTRADICTION_MAG)
        fair = np.abs(magnitude_b - whole_b) <= CONTRADICTION_MAG
        v = np.where(wrong, np.where(fair, magnitude_b - colour, np.nan), v)
    return np.where(np.isin(kinds, NO_SURFACE_KINDS), np.nan, v)


def extinction_of(kit: Kit) -> float:
    """Magnitudes an airmass takes at the kit's site: as given, or clear air at its elevation."""
    given = kit.site.extinction_mag_per_airmass
    return float(extinction_mag_per_airmass(kit.site.elevation_m)) if given is None else given


def margins(kit: Kit, looks: Looks, views: Views, sky_mag: Floats, airmass: Floats) -> Floats:
    """Magnitudes above the threshold, (e, n, m): eyepieces, objects, instants.

    `sky_mag` (mag/arcsec2 behind the object) and `airmass` are (n, m). nan where the object's
    light or size isn't known; the Moon and the planets always show and have margin `SURE`.
    """
    optics = Optics(
        kit.tube.aperture_mm,
        views.magnification[:, np.newaxis, np.newaxis],
        kit.tube.transmission * (1.0 - (kit.tube.obstruction_mm / kit.tube.aperture_mm) ** 2),
    )
    out = _margins(kit, looks, optics, sky_mag, airmass)
    pairs = np.flatnonzero(looks.sort == PAIR)
    out[:, pairs] = np.minimum(out[:, pairs], _apart(kit, looks, pairs, views)[:, :, np.newaxis])
    return out


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
    magnitude = magnitude + np.where(sort == CLUSTER, CLUSTER_MEMBERS_MAG, 0.0)
    factor = FIELD_FACTOR[kit.habits.observer]
    limit = point_limit_mag(sky_mag[rows][np.newaxis], optics, factor, kit.site.seeing_arcsec)
    return np.asarray(limit - (magnitude[:, np.newaxis] + taken[rows])[np.newaxis])


def _glow_margins(
    kit: Kit, looks: Looks, rows: Indices, optics: Optics, sky_mag: Floats, taken: Floats
) -> Floats:
    """Against the contrast threshold: the whole, or whichever inner part shows best."""
    sort, major = looks.sort[rows], looks.major_arcmin[rows]
    minor = np.where(np.isfinite(looks.minor_arcmin[rows]), looks.minor_arcmin[rows], major)
    area = np.pi / 4.0 * major * minor
    factor = FIELD_FACTOR[kit.habits.observer]

    def held(which: Mask, light: float, part: float) -> Floats:
        arcmin2 = area[which] * part**2
        surface = looks.magnitude[rows][which] - 2.5 * np.log10(light)
        surface = surface + 2.5 * np.log10(arcmin2 * 3600.0)
        return magnitude_margin(
            (surface[:, np.newaxis] + taken[rows][which])[np.newaxis],
            sky_mag[rows][which][np.newaxis],
            (arcmin2 * ARCMIN2_SR)[np.newaxis, :, np.newaxis],
            optics,
            factor,
        )

    out = held(np.ones(len(rows), dtype=bool), 1.0, 1.0)
    for code, parts in INNER_PARTS.items():
        same = sort == code
        for part, light in parts if same.any() else ():
            out[:, same] = np.maximum(out[:, same], held(same, light, part))
    return out


def pair_needs_arcsec(
    aperture_mm: ArrayLike, seeing_arcsec: ArrayLike, difference_mag: ArrayLike
) -> Floats:
    """Separation from which a pair shows as two stars: the aperture's or the seeing's need.

    The aperture's is Dawes' limit for equal stars and grows after Lewis with the difference of
    magnitude; the seeing's is that of two blurred discs. The larger of both. Broadcasts; beyond
    5.7 (10) magnitudes both go on growing as they do before.
    """
    dm = np.abs(np.asarray(difference_mag, dtype=np.float64))
    slope = np.log(_LEWIS_ARCSEC_INCH[3] / _LEWIS_ARCSEC_INCH[2]) / (_LEWIS_MAG[3] - _LEWIS_MAG[2])
    log_inch = np.interp(dm, _LEWIS_MAG, np.log(_LEWIS_ARCSEC_INCH))
    log_inch = log_inch + slope * np.maximum(dm - _LEWIS_MAG[3], 0.0)
    by_aperture = np.exp(log_inch) * 25.4 / np.asarray(aperture_mm, dtype=np.float64)
    widths = np.interp(dm, range(len(_BLURRED_APART)), _BLURRED_APART)
    widths = widths + 0.085 * np.maximum(dm - (len(_BLURRED_APART) - 1), 0.0)
    return np.asarray(np.maximum(by_aperture, widths * np.asarray(seeing_arcsec)))


def _apart(kit: Kit, looks: Looks, rows: Indices, views: Views) -> Floats:
    """How clearly pairs stand apart, (e, pairs), in magnitudes: a factor of two counts 1.5."""
    apart = looks.separation_arcsec[rows]
    needed = pair_needs_arcsec(
        kit.tube.aperture_mm,
        kit.site.seeing_arcsec,
        looks.companion[rows] - looks.magnitude[rows],
    )
    at_eye = apart * views.magnification[:, np.newaxis]
    eye = EYE_PARTS_ARCSEC[kit.habits.observer]
    return np.asarray(5.0 * np.log10(np.minimum(apart / needed, at_eye / eye)))


def visibility_of(margin_mag: float) -> Visibility:
    """How well an object of this margin shows; nan is UNKNOWN."""
    if np.isnan(margin_mag):
        return Visibility.UNKNOWN
    for least, visibility in LEAST_MARGINS_MAG:
        if margin_mag >= least:
            return visibility
    return Visibility.NOT_SEEN
