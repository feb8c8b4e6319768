"""Where in the sky is each picture of a run found? About the pole first, then anywhere."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from axletree.kit.frozen import dataclass
from axletree.pole.photographs.detection import StarImages
from axletree.pole.photographs.lens import field_deg
from axletree.pole.photographs.listed import limit_for, listed_around
from axletree.pole.photographs.matching import DEPTHS, SkyQuads, Solved, solve
from axletree.pole.photographs.refusals import none_recognised
from axletree.pole.photographs.shot import Shot
from axletree.sky.arrays import Floats
from axletree.sky.observer import Observer
from axletree.sky.time.instants import Instants

# As many listed stars as this in a picture, on the average, are looked for.
STARS_IN_FIELD = 70.0
# First so near the direction that was said, then in all of the sky.
NEAR_DEG = 8.0
WHOLE_DEG = 90.0
LOWEST_DEG = 2.0


@dataclass(frozen=True)
class Where:
    """Where a picture is looked for: a local direction (3,) and a radius, degrees."""

    direction: Floats
    radius_deg: float


def sky_quads(
    where: Where, size_px: tuple[int, int], focal_px: float, at: Instants, observer: Observer
) -> SkyQuads:
    """The listed stars about a direction and their quads, for pictures of this field."""
    wide, tall = (field_deg(length, focal_px) for length in size_px)
    # The flat picture's own area: what counts is how many stars fall onto it.
    area = min(wide * tall, 12_000.0)
    listed = listed_around(
        where.direction, where.radius_deg + math.hypot(wide, tall) / 2.0,
        limit_for(area, STARS_IN_FIELD), at, observer,
    )  # fmt: skip
    # Those below the horizon are asked for by looking down.
    down = where.direction[2] < 0.0
    lowest = math.sin(math.radians(LOWEST_DEG))
    listed = listed.take((listed.seen[:, 2] > lowest) != down)
    depths = DEPTHS if where.radius_deg < WHOLE_DEG else DEPTHS[:2]
    return SkyQuads(listed, area, depths)


def search(
    shots: Sequence[Shot], found: list[StarImages], observer: Observer, near: Where
) -> tuple[list[Solved | None], bool]:
    """Each picture's own solution, None where there is none; whether all rows run upside down.

    Refuses in a sentence where nothing at all is found, with the reason if it is known.
    """
    height, width = shots[0].grey.shape
    flips = (False, True) if any(s.rows_may_be_flipped for s in shots) else (False,)
    skies: list[SkyQuads] = []
    solved: list[Solved | None] = [None] * len(shots)
    for where in (near, everywhere()):
        sky = sky_quads(where, (width, height), shots[0].focal_px, shots[0].middle, observer)
        skies.append(sky)
        for flip in flips:
            # Away from the pole the turn takes the others out of the part where one was found.
            solved = _each(shots, [flipped_images(i) if flip else i for i in found], sky, solved)
            if any(s is not None for s in solved):
                flips = (flip,)
        if all(s is not None for s in solved):
            break
    if any(s is not None for s in solved):
        return solved, flips[0]
    # Nothing: is it something that a sentence can name?
    mirrored = any(
        _each(shots[:1], [flipped_images(found[0])], sky)[0] is not None for sky in skies
    )
    below = False
    if not mirrored:
        sky = sky_quads(
            below_horizon(), (width, height), shots[0].focal_px, shots[0].middle, observer
        )
        below = _each(shots[:1], found[:1], sky)[0] is not None
    raise none_recognised(
        [s.name for s in shots], [len(i) for i in found], mirrored=mirrored, below=below
    )


def _each(
    shots: Sequence[Shot],
    found: Sequence[StarImages],
    sky: SkyQuads,
    before: Sequence[Solved | None] = (),
) -> list[Solved | None]:
    """Each picture for itself, those solved before left as they are."""
    known = list(before) or [None] * len(shots)
    return [
        one if one is not None else solve(images, sky, shot.focal_px)
        for shot, images, one in zip(shots, found, known, strict=True)
    ]


def flipped_images(images: StarImages) -> StarImages:
    """The same upside down, as in a mirror."""
    return replace(images, y_px=images.height_px - 1.0 - images.y_px)


def about_the_pole(observer: Observer) -> Where:
    """Where the axis of a mount that was set up roughly points."""
    altitude = math.radians(abs(observer.latitude_deg))
    sense = 1.0 if observer.north else -1.0
    return Where(np.array([0.0, sense * math.cos(altitude), math.sin(altitude)]), NEAR_DEG)


def everywhere() -> Where:
    """The whole visible sky."""
    return Where(np.array([0.0, 0.0, 1.0]), 90.0)


def below_horizon() -> Where:
    """All that is not visible."""
    return Where(np.array([0.0, 0.0, -1.0]), 90.0)
