"""Which eyepiece shows an object best?

Public: ``Views``, ``views_of``, ``Extents``, ``best_view``.

What counts, in magnitudes of margin or what is worth as much (the weights are ours): how far the
object stands above the threshold, up to the point where it is plain; whether it fits the field
with a little sky around it; how large it looks; whether the beam passes into the eye, and whether
the seeing and the aperture bear the power.
"""

from __future__ import annotations

import numpy as np

from axletree.find.instruments import eyepieces_of
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.sky.arrays import Floats, Indices, Mask
from axletree.sky.optics import DARK_PUPIL_MM

# Beyond this margin a thing is plain, and more does not make an eyepiece better.
PLAIN_MAG = 2.5
SKY_AROUND = 1.25  # field over size that leaves a frame of sky
# Sizes at the eye that show an object well: a glow of two and a half degrees, a pair five
# arcminutes apart, a seeing disc no wider than four arcminutes, six where moments of steady air
# are waited for, at Moon and planets: 144 times in seeing of 2.5 arcseconds (common practice, no
# source).
GOOD_GLOW_ARCMIN, GOOD_PAIR_ARCSEC = 150.0, 300.0
WORST_BLUR_ARCSEC, WORST_BLUR_OF_BODIES_ARCSEC = 240.0, 360.0
LEAST_EXIT_PUPIL_MM, LEAST_GLOW_PUPIL_MM = 0.5, 1.0


@dataclass(frozen=True)
class Views:
    """The kit's eyepieces, alone and with each Barlow lens: arrays (e,)."""

    labels: tuple[str, ...]
    magnification: Floats
    true_field_deg: Floats
    exit_pupil_mm: Floats

    def one(self, number: int) -> Views:
        """A single one of them, arrays (1,)."""
        only = slice(number, number + 1)
        return Views(
            self.labels[only], self.magnification[only], self.true_field_deg[only],
            self.exit_pupil_mm[only],
        )  # fmt: skip


def views_of(kit: Kit) -> Views:
    """Every eyepiece through the kit's tube, alone and with each Barlow, longest first."""
    pieces = eyepieces_of(kit)
    power = np.array([e.magnification for e in pieces])
    return Views(
        labels=tuple(e.label for e in pieces),
        magnification=power,
        true_field_deg=np.array([e.true_field_deg for e in pieces]),
        exit_pupil_mm=kit.tube.aperture_mm / power,
    )


@dataclass(frozen=True)
class Extents:
    """How large the objects (n,) are that an eyepiece is sought for; nan where there is no size.

    `detail_arcmin` is the size of the part that is looked at, such as the bright middle of a
    globular cluster; `separation_arcsec` that of a pair. `glow` marks what is looked at as a
    surface, `body` the Moon and the planets.
    """

    size_arcmin: Floats
    detail_arcmin: Floats
    separation_arcsec: Floats
    glow: Mask
    body: Mask


def best_view(kit: Kit, views: Views, margin: Floats, extents: Extents) -> Indices:
    """The eyepiece (n,) that shows each object best, from margins (e, n) at its best moment.

    Details of the Moon and the planets want all the power that the seeing bears and that keeps
    the whole of them in the field (else the widest field); stars and open clusters do well with
    little.
    """
    glow, body = extents.glow, extents.body
    power, field = views.magnification[:, np.newaxis], views.true_field_deg[:, np.newaxis]
    size = np.nan_to_num(extents.size_arcmin, nan=0.0)[np.newaxis]
    known = np.nan_to_num(margin, nan=-3.0)
    score = np.clip(known, -3.0, PLAIN_MAG)
    with np.errstate(divide="ignore"):
        frame = np.log2(field * 60.0 / (SKY_AROUND * size))
    score = score + 2.0 * np.minimum(frame, 0.0)
    pair = np.isfinite(extents.separation_arcsec)[np.newaxis]
    apart = np.nan_to_num(extents.separation_arcsec, nan=1.0)[np.newaxis] * power
    detail = np.maximum(np.nan_to_num(extents.detail_arcmin, nan=0.0)[np.newaxis], 0.1)
    looks_large = np.clip(np.log2(detail * power / GOOD_GLOW_ARCMIN), -4.0, 0.0)
    blur = np.where(body, WORST_BLUR_OF_BODIES_ARCSEC, WORST_BLUR_ARCSEC)[np.newaxis]
    bearable = np.minimum(2.0 * kit.tube.aperture_mm, blur / kit.site.seeing_arcsec)
    suits = np.where(
        pair,
        -0.7 * np.abs(np.log2(apart / GOOD_PAIR_ARCSEC)),
        np.where(
            body[np.newaxis],
            -np.abs(np.log2(power / bearable)),
            np.where(glow[np.newaxis], 0.5 * looks_large, -0.4 * np.log2(power / 20.0)),
        ),
    )
    too_much = np.log2(power / bearable)
    least_pupil = np.where(glow[np.newaxis], LEAST_GLOW_PUPIL_MM, LEAST_EXIT_PUPIL_MM)
    too_thin = np.log2(least_pupil * power / kit.tube.aperture_mm)
    too_wide = np.log2(views.exit_pupil_mm / DARK_PUPIL_MM)[:, np.newaxis]
    for over, weight in ((too_much, 0.8), (too_thin, 2.0), (too_wide, 0.6)):
        suits = suits - weight * np.maximum(over, 0.0)
    total = score + suits
    # A Moon that is cut off is no Moon: only what holds all of it, or else the widest there is.
    holds = (frame >= 0.0) | ~body[np.newaxis]
    widest = np.arange(len(views.labels))[:, np.newaxis] == int(views.true_field_deg.argmax())
    allowed = np.where(np.any(holds, axis=0)[np.newaxis], holds, widest)
    return np.asarray(np.where(allowed, total, -np.inf).argmax(axis=0))
