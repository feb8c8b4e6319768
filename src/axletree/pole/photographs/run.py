"""Which way did each picture of a run look, through which one lens, and how well is that known?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.frames.attitude import rotation_between
from axletree.pole.frames.one_run import pixel_grid
from axletree.pole.photographs.detection import StarImages, on_the_sensor, star_images
from axletree.pole.photographs.lens import Lens, rays
from axletree.pole.photographs.listed import ListedStars
from axletree.pole.photographs.looking import Where, about_the_pole, flipped_images, search
from axletree.pole.photographs.matching import (
    LEAST_STARS,
    Solved,
    inside,
    pairs_within,
    star_pairs,
)
from axletree.pole.photographs.refine import Pairs, Refined, refine
from axletree.pole.photographs.refusals import (
    another_size,
    another_zoom,
    not_turned,
    too_few_spots,
    trails_too_long,
)
from axletree.pole.photographs.shot import Shot
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

# Two focal lengths that differ by more are two zooms: one picture alone knows its own to less.
ZOOM_TOLERANCE = 0.01
# Spots that stay on their pixels, part of all: then the camera wasn't turned.
STILL_PART = 0.85
LONGEST_TRAIL_PX = 25.0
# Spots so many times longer than broad are trails; so many of so many bright ones are too many.
_LEAST_DRAWN_OUT, _MOST_DRAWN_OUT, _LOOKED_AT = 2.5, 0.35, 40
_MOST_PAIRS = 300
# Keeps the covariance regular, and nothing more: at 0.004 the ellipses were a fifth too wide.
_OWN_FLOOR_PX = 0.0005


@dataclass(frozen=True)
class Recognised:
    """A picture that was recognised: its attitude (3, 3), the stars (n) that tell it, their places
    in the picture and the misfits (n, 2) there in pixels."""

    name: str
    which: int
    middle: Instants
    attitude: Floats
    stars: ListedStars
    places_px: Floats
    misfit_px: Floats
    log10_chance: float
    of_brightest: tuple[int, int]


@dataclass(frozen=True)
class SolvedRun:
    """All pictures of a run that were recognised, their one lens, and how well they are known.

    `covariance_arcmin2` (3 n, 3 n): of small turns of the attitudes about the local axes.
    `unrecognised`: places of the others in the order given.
    """

    recognised: tuple[Recognised, ...]
    lens: Lens
    size_px: tuple[int, int]
    covariance_arcmin2: Floats
    rms_px: float
    unrecognised: tuple[int, ...]
    flipped: bool = False


def solve_run(shots: Sequence[Shot], observer: Observer, towards: Where | None) -> SolvedRun:
    """The attitudes of a run; `towards`: where to look first, None: about the pole.

    Refuses in a sentence pictures of another size or zoom, without stars, drawn out too long, of
    one attitude, mirrored, or that nothing in the sky looks like.
    """
    size = _one_size(shots)
    found = [star_images(shot.grey) for shot in shots]
    for shot, images in zip(shots, found, strict=True):
        _refuse_spots(shot.name, images)
    found = _without_sensor(shots, found)
    solved, flipped = search(shots, found, observer, towards or about_the_pole(observer))
    if flipped:
        found = [flipped_images(images) for images in found]
    known = [k for k, s in enumerate(solved) if s is not None]
    several = [s for s in solved if s is not None]
    focal = np.array([s.lens.focal_px for s in several])
    if focal.max() / focal.min() > 1.0 + ZOOM_TOLERANCE:
        raise another_zoom([shots[k].name for k in known], focal)
    best, listed, rows = together(
        [shots[k] for k in known], [found[k] for k in known], several, observer
    )
    recognised = tuple(
        Recognised(
            name=shots[k].name,
            which=k,
            middle=shots[k].middle,
            attitude=best.attitudes[j],
            stars=listed[j],
            places_px=rows[j].places_px,
            misfit_px=best.residuals_px[j],
            log10_chance=several[j].log10_chance,
            of_brightest=several[j].of_brightest,
        )
        for j, k in enumerate(known)
    )
    return SolvedRun(
        recognised=recognised,
        lens=best.lens,
        size_px=size,
        covariance_arcmin2=_local_covariance(best),
        rms_px=best.rms_px,
        unrecognised=tuple(k for k in range(len(shots)) if k not in known),
        flipped=flipped,
    )


def _one_size(shots: Sequence[Shot]) -> tuple[int, int]:
    height, width = shots[0].grey.shape
    for other in shots[1:]:
        if other.grey.shape != (height, width):
            raise another_size(shots[0].name, (width, height), other.name, other.grey.shape[::-1])
    return width, height


def _refuse_spots(name: str, images: StarImages) -> None:
    if len(images) + len(images.streaks_px) < LEAST_STARS:
        raise too_few_spots(name, len(images))
    top = images.take(slice(0, _LOOKED_AT))
    drawn = top.elongation > _LEAST_DRAWN_OUT
    long = [*images.streaks_px, *top.length_px[drawn & (top.length_px > LONGEST_TRAIL_PX)]]
    if len(long) > _MOST_DRAWN_OUT * min(_LOOKED_AT, len(images)):
        raise trails_too_long(name, float(np.median(long)), LONGEST_TRAIL_PX)


def _without_sensor(shots: Sequence[Shot], found: list[StarImages]) -> list[StarImages]:
    """Without what stays on its pixel; refused where that is nearly all."""
    if len(found) < 2:
        return found
    still = on_the_sensor(found)
    parts = [float(np.mean(s[:40])) for s in still]
    if min(parts) > STILL_PART and min(len(f) for f in found) >= LEAST_STARS:
        raise not_turned(shots[0].name, shots[-1].name)
    # A picture twice among others: its twin is no reason to take away its stars.
    cleared = [
        images if part > STILL_PART else images.take(~s)
        for images, s, part in zip(found, still, parts, strict=True)
    ]
    if max(len(images) for images in cleared) < LEAST_STARS:
        raise not_turned(shots[0].name, shots[-1].name)
    return cleared


def together(
    shots: Sequence[Shot], found: Sequence[StarImages], solved: Sequence[Solved],
    observer: Observer, lens: Lens | None = None,
) -> tuple[Refined, list[ListedStars], list[Pairs]]:  # fmt: skip
    """All pictures at once, each with the stars at its own time and as many as can be paired.

    `lens`: theirs where it is known already; else the one that fits them all is found.
    """
    size, lens_known = (found[0].width_px, found[0].height_px), lens is not None
    attitudes = []
    own_stars = []
    for shot, one in zip(shots, solved, strict=True):
        near = one.listed.take(inside(one.listed, one.attitude, one.lens, size)[0])
        now = near.at(shot.middle, observer)
        # The sky turned since the instant of the list: the same pixels, other directions.
        attitudes.append(one.attitude @ rotation_between(now.seen, near.seen))
        own_stars.append(now)
    if lens is None:
        lens = solved[int(np.argmax([len(s.picture_stars) for s in solved]))].lens
    # Each found its own lens middle, which is as good as a turn: now as seen through this one.
    grid = np.stack(pixel_grid(*size), axis=-1)
    through = rays(lens, grid)
    turned = np.array(
        [
            rotation_between(rays(one.lens, grid) @ attitude, through)
            for one, attitude in zip(solved, attitudes, strict=True)
        ]
    )
    best: Refined | None = None
    paired: list[Pairs] = []
    kept: list[ListedStars] = []
    for widened in (2.0, 1.0, 1.0):
        paired, kept = [], []
        for k, (images, now) in enumerate(zip(found, own_stars, strict=True)):
            reach = max(3.0, 1.5 * images.spread_px) * widened
            rows, expected = inside(now, turned[k], lens, size)
            rows, expected = rows[:_MOST_PAIRS], expected[:_MOST_PAIRS]
            mine, theirs = pairs_within(expected, images.places, reach)
            kept.append(now.take(rows[theirs]))
            paired.append(star_pairs(images, now, mine, rows[theirs]))
        best = refine(paired, turned, lens, size, lens_known=lens_known)
        turned, lens = best.attitudes, best.lens
    assert best is not None
    return best, kept, paired


def _local_covariance(best: Refined) -> Floats:
    """Covariance of small turns about the local axes, square arcminutes."""
    count = len(best.attitudes)
    turn = np.zeros((3 * count, 3 * count))
    for k in range(count):
        turn[3 * k : 3 * k + 3, 3 * k : 3 * k + 3] = best.attitudes[k].T
    floor = np.eye(3 * count) * (_OWN_FLOOR_PX / best.lens.focal_px) ** 2
    local = turn @ (best.covariance + floor) @ turn.T
    return np.asarray(local * (10800.0 / np.pi) ** 2)


def rms(misfit_px: Floats) -> float:
    """Root mean square of one coordinate of misfits (n, 2), wrong pairs left out."""
    size = np.abs(misfit_px)
    kept = size[size <= max(6.0 * float(np.median(size)), 1e-9)]
    return float(np.sqrt(np.mean(kept**2))) if len(kept) else 0.0
