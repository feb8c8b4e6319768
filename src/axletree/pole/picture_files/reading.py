"""What does a picture file hold: its light, reduced to what the eye of the solver needs?

JPEG, PNG and TIFF by Pillow, FITS by our own reader; 16-bit TIFF, camera raw and HEIF by the
packages of the extra `pictures` (`other_formats`). Nothing is turned as EXIF's orientation says:
one camera's pictures keep one attitude on the sensor. Places in the file are not looked at.
"""

from __future__ import annotations

import os
import warnings
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.kit.reading.files import opened, told
from axletree.pole.picture_files.exif import FileSays, taken_from_exif
from axletree.pole.picture_files.fits_pixels import read_fits
from axletree.pole.picture_files.limits import (
    LARGEST_FILE_BYTES,
    LEAST_SIDE_PX,
    damaged,
    refuse_too_many,
    too_many_pixels,
)
from axletree.pole.picture_files.other_formats import (
    NEEDS_EXTRA,
    is_heif,
    read_deep_tiff,
    read_heif,
    read_raw,
)
from axletree.sky.arrays import Singles

# The longer side is halved until it is no longer than this: two or three pixels a star are enough.
LONGEST_SIDE_PX = 3600
_FORMATS = ("JPEG", "PNG", "TIFF")
_DEEP_BITS = 8
_BITS_TAG = 258  # BitsPerSample (TIFF 6.0)


@dataclass(frozen=True)
class PictureFile:
    """One picture: its file's name, its light (height, width), how many pixels of the file each
    pixel is wide, and what the file says of when and through what it was taken."""

    name: str
    grey: Singles
    reduced: float
    taken: FileSays

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height as reduced."""
        return self.grey.shape[1], self.grey.shape[0]


def read_picture(path: Path | str) -> PictureFile:
    """One picture from a file; every refusal is one sentence with the file's name."""
    file = Path(path)
    with told(file), opened(file) as stream:
        head, size = stream.read(32), os.fstat(stream.fileno()).st_size
    if size > LARGEST_FILE_BYTES:
        raise AxletreeError(
            f"{file.name}: {size / 1e6:.0f} MB, more than the {LARGEST_FILE_BYTES / 1e6:.0f} MB "
            "that a picture may have"
        )
    try:
        grey, reduced, taken = _read(file, head)
    except AxletreeError as error:
        raise AxletreeError(f"{file.name}: {error}") from None
    if min(grey.shape) < LEAST_SIDE_PX:
        raise AxletreeError(
            f"{file.name}: {grey.shape[1]} x {grey.shape[0]} pixels are too few for stars"
        )
    return PictureFile(file.name, grey, reduced, taken)


def _read(file: Path, head: bytes) -> tuple[Singles, int, FileSays]:
    if head.startswith((b"SIMPLE  =", b"\x1f\x8b")):
        grey, taken = read_fits(file)
        return *reduce(grey), taken
    if is_heif(head):
        with read_heif(file) as image:
            return *light_of(image), taken_from_exif(image.getexif())
    if file.suffix.lower().lstrip(".") in NEEDS_EXTRA:
        grey, taken = read_raw(file)
        return *reduce(grey), taken
    with _opened(file) as image:
        if image.format == "TIFF" and _is_deep(image):
            refuse_too_many(*image.size)
            return *reduce(read_deep_tiff(file)), taken_from_exif(image.getexif())
        return *light_of(image), taken_from_exif(image.getexif())


def _opened(file: Path) -> Image.Image:
    try:
        with warnings.catch_warnings():
            # Pillow's own limit warns at 89 million pixels; ours refuses in a sentence.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            return Image.open(file, formats=_FORMATS)
    except Image.DecompressionBombError:
        raise too_many_pixels() from None
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError):
        raise AxletreeError("no picture that can be read: JPEG, PNG, TIFF or FITS are") from None


def _is_deep(image: Image.Image) -> bool:
    """Of more bits than Pillow keeps."""
    return _bits(image) > _DEEP_BITS and image.mode not in ("I;16", "I", "F")


def light_of(image: Image.Image) -> tuple[Singles, int]:
    """The light of an opened picture (height, width), reduced, and how often; refuses damage."""
    refuse_too_many(*image.size)
    try:
        wanted = _factor(image.size)
        before = image.width
        # A JPEG is decoded at a half, a quarter or an eighth, and its brightness alone.
        image.draft("L", (image.width // wanted, image.height // wanted))
        image.load()
        drawn = max(1, round(before / image.width))
        deep = image.mode.startswith("I") or image.mode == "F"
        plain = image if deep or image.mode == "L" else image.convert("L")
        grey, more = reduce(np.asarray(plain))
        return grey, drawn * more
    except AxletreeError:
        raise
    except (OSError, SyntaxError, ValueError, EOFError):
        raise damaged() from None
    except Image.DecompressionBombError:
        raise too_many_pixels(image.size) from None


def _bits(image: Image.Image) -> int:
    tags: Any = getattr(image, "tag_v2", {})
    held = tags.get(_BITS_TAG, 8) if hasattr(tags, "get") else 8
    return int(max(held)) if isinstance(held, tuple) else int(held)


def _factor(size: tuple[int, int]) -> int:
    factor = 1
    while max(size) / factor > LONGEST_SIDE_PX:
        factor *= 2
    return factor


def reduce(grey: NDArray[Any]) -> tuple[Singles, int]:
    """The picture with so many pixels averaged to one that it is small enough, and how many."""
    factor = _factor((grey.shape[1], grey.shape[0]))
    if grey.dtype.kind == "f":
        grey = np.nan_to_num(grey, nan=0.0, posinf=0.0, neginf=0.0)
    if factor == 1:
        return grey.astype(np.float32, copy=False), 1
    height, width = (length // factor * factor for length in grey.shape)
    blocks = grey[:height, :width].reshape(height // factor, factor, width // factor, factor)
    return blocks.mean(axis=(1, 3), dtype=np.float32), factor
