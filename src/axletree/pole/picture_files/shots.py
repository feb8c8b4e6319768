"""What is known of each picture before it is looked at: when, and through which focal length?

From the person, from the file, from the kit, in this order. A time without a zone is no time: an
hour's slip costs a quarter of the axis' offset, so the zone is asked for and never guessed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, tzinfo

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.kit import Kit
from axletree.pole.photographs.lens import field_deg
from axletree.pole.photographs.shot import Shot
from axletree.pole.picture.frame_file import YEARS
from axletree.pole.picture_files.exif import DIAGONAL_35_MM
from axletree.pole.picture_files.reading import PictureFile
from axletree.sky.time.instants import Instants

LEAST_FIELD_DEG, WIDEST_FIELD_DEG = 0.3, 110.0


@dataclass(frozen=True)
class PictureFacts:
    """What the person says of the pictures; None where nothing.

    `taken`: when each exposure began, without a zone where `zone` holds. `zone`: of the camera's
    clock. `field_deg`: of the picture's longer side. `still_s`: how long the camera stood still
    before the axis was turned with the shutter open.
    """

    taken: tuple[datetime, ...] = ()
    zone: tzinfo | None = None
    focal_mm: float | None = None
    pixel_um: float | None = None
    field_deg: float | None = None
    still_s: float | None = None


def shots_of(pictures: Sequence[PictureFile], facts: PictureFacts, kit: Kit) -> tuple[Shot, ...]:
    """The pictures with their times and focal lengths; refuses those that lack one, by name."""
    if facts.taken and len(facts.taken) != len(pictures):
        raise AxletreeError(
            f"--taken was given {len(facts.taken)} times for {len(pictures)} pictures: once for "
            "each, in their order"
        )
    return tuple(
        Shot(
            name=picture.name,
            grey=picture.grey,
            middle=_middle(picture, facts.taken[k] if facts.taken else None, facts),
            focal_px=_focal_px(picture, facts, kit),
            rows_may_be_flipped=picture.taken.rows_may_be_flipped,
            exposure_known=picture.taken.exposure_s is not None,
        )
        for k, picture in enumerate(pictures)
    )


def _middle(picture: PictureFile, said: datetime | None, facts: PictureFacts) -> Instants:
    held = picture.taken
    begun = said or held.begun
    if begun is None:
        raise AxletreeError(
            f"{picture.name}: no time in it; say when its exposure began, such as --taken "
            "2026-12-05T20:30:05, once for each picture"
        )
    if begun.tzinfo is None:
        if facts.zone is None:
            raise AxletreeError(
                f"{picture.name}: its clock said {begun:%Y-%m-%d %H:%M:%S}, but not in which zone; "
                "say so, such as --zone Europe/Lisbon or --zone +01:00"
            )
        begun = begun.replace(tzinfo=facts.zone)
    if not YEARS[0] <= begun.year < YEARS[1]:
        raise AxletreeError(
            f"{picture.name}: its exposure began in the year {begun.year}; no picture was"
        )
    if facts.still_s is not None:
        return Instants.from_datetime(begun).plus(facts.still_s / 2.0)
    half = 0.0 if held.middle_known and said is None else (held.exposure_s or 0.0) / 2.0
    return Instants.from_datetime(begun).plus(half)


def _focal_px(picture: PictureFile, facts: PictureFacts, kit: Kit) -> float:
    width, height = picture.size_px
    longer = max(width, height)
    if facts.field_deg is not None:
        return longer / 2.0 / math.tan(math.radians(facts.field_deg) / 2.0)
    held = picture.taken
    camera = kit.camera
    focal = facts.focal_mm or held.focal_mm
    pixel = facts.pixel_um or held.pixel_um
    if facts.focal_mm is None and facts.pixel_um is None and held.focal_35_mm is not None:
        return held.focal_35_mm / DIAGONAL_35_MM * math.hypot(width, height)
    if focal is None and camera is not None:
        focal = kit.tube.focal_length_mm
    if pixel is None and camera is not None:
        pixel = camera.pixel_um
    if focal is None or pixel is None:
        raise AxletreeError(
            f"{picture.name}: nothing tells how wide its field is; say --field with the degrees of "
            "its longer side, or --focal-length and --pixel-size"
        )
    found = focal * 1000.0 / (pixel * picture.reduced)
    field = field_deg(longer, found)
    if not LEAST_FIELD_DEG <= field <= WIDEST_FIELD_DEG:
        raise AxletreeError(
            f"{picture.name}: {focal:g} mm and pixels of {pixel:g} µm make a field of "
            f"{field:.1f}°, and one of {LEAST_FIELD_DEG:g}° to {WIDEST_FIELD_DEG:g}° is read; say "
            "--field if it is another"
        )
    return found
