"""What light does a FITS file hold? The first picture in it, unpacked, in plain numbers.

Source: FITS Standard 4.0 (IAU FITS Working Group 2018), sections 4.4.1 and 4.4.2.5.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import IO

import numpy as np

from axletree.kit.errors import AxletreeError
from axletree.pole.picture.fits_header import (
    Header,
    number,
    open_file,
    parts_of,
    whole,
    words,
)
from axletree.pole.picture.frame_file import FrameNote, exposure_middle
from axletree.pole.picture_files.exif import FileSays
from axletree.pole.picture_files.limits import damaged, refuse_too_many
from axletree.sky.arrays import Singles

_KINDS = {8: ">u1", 16: ">i2", 32: ">i4", -32: ">f4", -64: ">f8"}


def read_fits(file: Path) -> tuple[Singles, FileSays]:
    """The light (height, width) of the first picture, and what the header says of it."""
    with open_file(file) as stream:
        return _first_picture(stream, parts_of(stream))


def _first_picture(stream: IO[bytes], parts: list[tuple[Header, int]]) -> tuple[Singles, FileSays]:
    for header, start in parts:
        count = whole(header, "NAXIS")
        if count not in (2, 3):
            continue
        axes = [whole(header, f"NAXIS{k + 1}") or 0 for k in range(count)]
        kind = _KINDS.get(whole(header, "BITPIX") or 0)
        picture = len(axes) == 2 or axes[2] <= 4
        if kind is None or not picture or min(axes) < 1 or words(header, "XTENSION") == "BINTABLE":
            continue
        refuse_too_many(axes[0], axes[1])
        stream.seek(start)
        # What PCOUNT and GCOUNT say doesn't hold for a picture (section 7.1.1).
        size = math.prod(axes) * np.dtype(kind).itemsize
        data = stream.read(size)
        if len(data) < size:
            raise damaged()
        grey = np.frombuffer(data, dtype=kind).reshape(axes[::-1]).astype(np.float32)
        if len(axes) == 3:
            grey = grey.mean(axis=0, dtype=np.float32)
        scale = number(header, "BSCALE")
        grey = grey * np.float32(1.0 if scale is None else scale)
        grey = grey + np.float32(number(header, "BZERO") or 0.0)
        merged = {**parts[0][0], **header}
        if words(merged, "BAYERPAT"):
            grey = without_mosaic(grey)
        return grey, _taken(merged)
    raise AxletreeError("no picture in this FITS file (packed tables are not read)")


def without_mosaic(grey: Singles) -> Singles:
    """Each pixel averaged with its neighbours right, below and both: all colours in each."""
    out = grey.copy()
    out[:, :-1] += grey[:, 1:]
    out[:-1] += out[1:].copy()
    return out * np.float32(0.25)


def _taken(header: Header) -> FileSays:
    begun, exposure = None, None
    try:
        middle, exposure_s, notes = exposure_middle(header)
        begun = middle.to_datetimes()[0]
        exposure = None if FrameNote.NO_EXPOSURE_TIME in notes else exposure_s
    except AxletreeError:
        pass
    return FileSays(
        begun=begun,
        exposure_s=exposure,
        focal_mm=number(header, "FOCALLEN"),
        pixel_um=number(header, "XPIXSZ"),
        middle_known=True,
        rows_may_be_flipped=True,
    )
