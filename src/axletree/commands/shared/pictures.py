"""Which pictures does a person bring, and what do they say of them?"""

from __future__ import annotations

import argparse
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from axletree.commands.shared.common import refuse_outside
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.pole.photographs.looking import Where
    from axletree.pole.picture_files.shots import PictureFacts
    from axletree.stages.set_up.measurements import PicturesMeasurement

MOST_PICTURES = 12
EVERYWHERE = "anywhere"


def pictures_options(parser: argparse.ArgumentParser) -> None:
    """The options of plain pictures."""
    parser.add_argument(
        "--towards", metavar="AZ,ALT",
        help=f"pictures: azimuth and altitude they look to, or '{EVERYWHERE}' (the pole)",
    )  # fmt: skip
    parser.add_argument(
        "--zone", metavar="ZONE",
        help="pictures: zone of the camera's clock, such as Europe/Lisbon or +01:00",
    )  # fmt: skip
    parser.add_argument(
        "--taken", metavar="ISO", action="append", default=[],
        help="pictures: when an exposure began, once for each picture",
    )  # fmt: skip
    parser.add_argument(
        "--watch", metavar="FOLDER",
        help="pictures: go on with each new one in this folder while bolts are turned",
    )  # fmt: skip
    for name, unit, words in (
        ("focal-length", "MM", "focal length"),
        ("pixel-size", "UM", "a pixel's width on the sensor in micrometres"),
        ("field", "DEG", "field of the picture's longer side"),
        ("clock-error", "SECONDS", "how far the camera's clock may be off (30)"),
        ("still", "SECONDS", "one long exposure: how long at rest before the axis was turned"),
    ):
        parser.add_argument(f"--{name}", type=float, metavar=unit, help=f"pictures: {words}")


def pictures_of(options: argparse.Namespace, kit: Kit) -> PicturesMeasurement:
    """The pictures, read and dated."""
    from axletree.pole.photographs.axis import CLOCK_SIGMA_S
    from axletree.pole.picture_files.reading import read_picture
    from axletree.pole.picture_files.shots import LEAST_FIELD_DEG, WIDEST_FIELD_DEG, shots_of
    from axletree.stages.set_up.measurements import PicturesMeasurement

    files = options.files
    if options.still is not None and len(files) != 1:
        raise AxletreeError("--still goes with one picture, in which the hour axis was turned")
    if options.still is None and not 2 <= len(files) <= MOST_PICTURES:
        raise AxletreeError(
            f"check pictures takes 2 to {MOST_PICTURES} pictures between which the hour axis alone "
            f"was turned, not {len(files)}"
        )
    refuse_outside(options, {
        "focal_length": (1.0, 20_000.0), "pixel_size": (0.3, 50.0),
        "field": (LEAST_FIELD_DEG, WIDEST_FIELD_DEG), "still": (1.0, 600.0),
        "clock_error": (0.0, 3600.0),
    })  # fmt: skip
    shots = shots_of([read_picture(file) for file in files], facts_of(options), kit)
    clock = CLOCK_SIGMA_S if options.clock_error is None else options.clock_error
    return PicturesMeasurement(shots, towards(options.towards), options.still is not None, clock)


def facts_of(options: argparse.Namespace) -> PictureFacts:
    """What the person says of the pictures."""
    from axletree.pole.picture_files.shots import PictureFacts

    return PictureFacts(
        taken=tuple(_taken(text) for text in options.taken),
        zone=None if options.zone is None else zone_named(options.zone),
        focal_mm=options.focal_length,
        pixel_um=options.pixel_size,
        field_deg=options.field,
        still_s=options.still,
    )


def towards(text: str | None) -> Where | None:
    """The direction of '--towards'; None for about the pole."""
    import numpy as np

    from axletree.pole.photographs.looking import NEAR_DEG, Where, everywhere
    from axletree.sky.directions import vector_from_azimuth_altitude

    if text is None:
        return None
    if text == EVERYWHERE:
        return everywhere()
    try:
        azimuth, altitude = (float(part) for part in text.split(","))
    except ValueError:
        azimuth = altitude = np.nan
    if not (-360.0 <= azimuth <= 360.0 and 0.0 <= altitude <= 90.0):
        raise AxletreeError(
            f"--towards '{text}' is not azimuth and altitude such as 180,45, nor '{EVERYWHERE}'"
        )
    return Where(vector_from_azimuth_altitude(azimuth, altitude), NEAR_DEG)


def zone_named(text: str) -> tzinfo:
    """The zone of a name or an offset."""
    from axletree.pole.picture_files.exif import zone_of

    offset = zone_of(text)
    if offset is not None:
        return offset
    try:
        return ZoneInfo(text)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise AxletreeError(
            f"--zone '{text}' is not a zone such as Europe/Lisbon or +01:00"
        ) from None


def _taken(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise AxletreeError(
            f"--taken '{text}' is not a date and time such as 2026-12-05T20:30:05"
        ) from None
