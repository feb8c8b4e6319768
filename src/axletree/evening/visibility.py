"""How well can an object be seen: by how many magnitudes, through which eyepiece, in what words?

Extended objects are held against the eye's contrast threshold behind the telescope
(`contrast.magnitude_margin`), stars against the point limit, double stars against the aperture
and the seeing. What is not known (a size, a magnitude) gives nan, never a guess in disguise.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from axletree.evening.contrast import (
    ARCMIN2_SR,
    FIELD_FACTOR,
    Optics,
    magnitude_margin,
    point_limit_mag,
)
from axletree.kit.kit import Kit
from axletree.sky.optics import dawes_limit_arcsec, magnification, true_field_deg

Floats = NDArray[np.float64]

EXTENDED, CLUSTER, POINT, PAIR, BODY = 0, 1, 2, 3, 4

# The brightest members of an open cluster, fainter than its total light by this much: ours, for
# some twenty stars of which the brightest count.
CLUSTER_MEMBERS_MAG = 3.0
# A pair is comfortably apart when the eye meets it at this angle: common practice, no source.
COMFORTABLE_ARCSEC = 300.0
# A pair of unequal stars needs more room: this fraction of the Dawes limit more for each
# magnitude of difference. Ours, in the spirit of T. Lewis 1914 (The Observatory 37, 378).
UNEQUAL_PER_MAG = 0.35


@dataclass(frozen=True)
class Looks:
    """What is known of n objects' looks: arrays (n,), nan where it is not known.

    `sort` is EXTENDED, CLUSTER, POINT, PAIR or BODY. Magnitudes are V before extinction; a pair's
    is the brighter star's.
    """

    sort: NDArray[np.int8]
    magnitude: Floats
    major_arcmin: Floats
    minor_arcmin: Floats
    separation_arcsec: Floats
    companion: Floats


@dataclass(frozen=True)
class Views:
    """The eyepieces of the kit: arrays (e,)."""

    labels: tuple[str, ...]
    magnification: Floats
    true_field_deg: Floats
    exit_pupil_mm: Floats


def views_of(kit: Kit) -> Views:
    """The kit's eyepieces through its tube, in the kit's order."""
    focal = kit.tube.focal_length_mm
    lengths = np.array([e.focal_length_mm for e in kit.eyepieces])
    stops = np.array([e.field_stop_mm or np.nan for e in kit.eyepieces])
    apparent = np.array([e.apparent_field_deg for e in kit.eyepieces])
    power = magnification(focal, lengths)
    return Views(
        labels=tuple(e.label for e in kit.eyepieces),
        magnification=power,
        true_field_deg=true_field_deg(focal, lengths, apparent, stops),
        exit_pupil_mm=kit.tube.aperture_mm / power,
    )


def margins(
    kit: Kit, looks: Looks, views: Views, sky_mag: Floats, airmass: Floats
) -> Floats:
    """Magnitudes above the threshold, (e, n, m): eyepieces, objects, instants.

    `sky_mag` and `airmass` are (n, m). nan where the object's brightness or size isn't known;
    -inf for a pair that this aperture, this seeing or this eyepiece cannot part. The Moon and
    the planets always show and have margin 9.
    """
    tube = kit.tube
    clear = 1.0 - (tube.obstruction_mm / tube.aperture_mm) ** 2
    optics = Optics(
        tube.aperture_mm,
        views.magnification[:, np.newaxis, np.newaxis],
        tube.transmission * clear,
    )
    factor = FIELD_FACTOR[kit.habits.observer]
    extinction = (kit.site.extinction_mag_per_airmass or 0.25) * np.where(
        np.isfinite(airmass), airmass, 40.0
    )
    faint = looks.magnitude[:, np.newaxis] + extinction
    limit = point_limit_mag(
        sky_mag[np.newaxis], optics, factor, kit.site.seeing_arcsec
    )
    out = np.full((len(views.labels), *sky_mag.shape), np.nan)
    sort = looks.sort
    point = limit - faint[np.newaxis]
    minor = np.where(np.isfinite(looks.minor_arcmin), looks.minor_arcmin, looks.major_arcmin)
    area_arcmin2 = np.pi / 4.0 * looks.major_arcmin * minor
    with np.errstate(invalid="ignore", divide="ignore"):
        surface = faint + 2.5 * np.log10(area_arcmin2 * 3600.0)[:, np.newaxis]
    extended = magnitude_margin(
        surface[np.newaxis],
        sky_mag[np.newaxis],
        (area_arcmin2 * ARCMIN2_SR)[np.newaxis, :, np.newaxis],
        optics,
        factor,
    )
    out[:, sort == EXTENDED] = extended[:, sort == EXTENDED]
    members = point - CLUSTER_MEMBERS_MAG
    out[:, sort == CLUSTER] = np.fmax(members, extended)[:, sort == CLUSTER]
    out[:, sort == POINT] = point[:, sort == POINT]
    out[:, sort == BODY] = 9.0
    if (sort == PAIR).any():
        both = point - (looks.companion - looks.magnitude)[np.newaxis, :, np.newaxis]
        apart = pair_apart(kit, looks, views)
        pair = np.where(apart[:, :, np.newaxis], both, -np.inf)
        out[:, sort == PAIR] = pair[:, sort == PAIR]
    return out


def pair_apart(kit: Kit, looks: Looks, views: Views) -> NDArray[np.bool_]:
    """True (e, n) where this eyepiece shows the two stars of a pair apart.

    Wider than the Dawes limit, stretched for unequal stars, and than six tenths of the seeing
    disc (common practice); and magnified to at least two arcminutes for the eye.
    """
    unequal = np.abs(looks.companion - looks.magnitude)
    needed = dawes_limit_arcsec(kit.tube.aperture_mm) * (1.0 + UNEQUAL_PER_MAG * unequal)
    wide = looks.separation_arcsec > np.maximum(needed, 0.6 * kit.site.seeing_arcsec)
    eye = looks.separation_arcsec[np.newaxis] * views.magnification[:, np.newaxis] >= 120.0
    return np.asarray(wide[np.newaxis] & eye)


def best_view(kit: Kit, looks: Looks, views: Views, margin: Floats) -> NDArray[np.intp]:
    """The eyepiece (n,) that shows each object best, from margins (e, n) at its best moment.

    Everything must fit the field with a quarter to spare, if any eyepiece allows it; then the
    largest margin counts, in steps of a third of a magnitude, and of equals the one that suits
    the sort: comfortable separation for pairs, about 1 mm of exit pupil for Moon and planets (no
    more than the seeing bears), the widest for clusters.
    """
    power, field = views.magnification[:, np.newaxis], views.true_field_deg[:, np.newaxis]
    size_deg = np.nan_to_num(looks.major_arcmin, nan=0.0)[np.newaxis] / 60.0
    fits = field >= 1.25 * size_deg
    fits |= ~fits.any(axis=0) & (views.true_field_deg == views.true_field_deg.max())[:, np.newaxis]
    steps = np.round(np.clip(np.nan_to_num(margin, nan=-9.0), -9.0, 9.0) * 3.0)
    tie = np.zeros(margin.shape)
    pair = looks.sort == PAIR
    apparent = np.nan_to_num(looks.separation_arcsec, nan=1.0)[np.newaxis] * power
    tie = np.where(pair[np.newaxis], -np.abs(np.log(apparent / COMFORTABLE_ARCSEC)), tie)
    # 240 arcseconds of seeing disc in the eye is as much as planets bear: common practice.
    bearable = np.minimum(kit.tube.aperture_mm, 240.0 / kit.site.seeing_arcsec)
    body = looks.sort == BODY
    tie = np.where(body[np.newaxis], -np.abs(np.log(power / bearable)), tie)
    wide = (looks.sort == CLUSTER) | (looks.sort == POINT)
    tie = np.where(wide[np.newaxis], -power / 1000.0, tie)
    # Once a thing shows plainly, what suits it counts more than another step of margin.
    plain = np.where(wide, 1.0, 3.0)[np.newaxis]
    steps = np.minimum(steps, 3.0 * plain)
    steps = np.where((pair | body)[np.newaxis], np.where(steps > -27, 0.0, steps), steps)
    score = steps * 10.0 + tie + np.where(fits, 1e4, 0.0)
    return np.asarray(score.argmax(axis=0))


def sight_words(margin: float) -> str:
    """A margin in words that a visitor would use."""
    if np.isnan(margin):
        return "nobody knows how well it shows"
    if margin >= 2.0:
        return "shows at first glance"
    if margin >= 1.0:
        return "plain after a few seconds"
    if margin >= 0.4:
        return "soft; give it half a minute"
    if margin >= 0.0:
        return "at the edge of sight: look beside it"
    return "not tonight"
