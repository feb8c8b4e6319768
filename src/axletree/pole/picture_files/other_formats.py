"""How are 16-bit TIFF, camera raw and HEIF read, by the packages of the extra `pictures`?

Without them each is one sentence that says how to get a JPEG.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from axletree.kit.errors import AxletreeError
from axletree.pole.picture_files.exif import FileSays, taken_from_exif
from axletree.pole.picture_files.fits_pixels import without_mosaic
from axletree.pole.picture_files.limits import damaged, refuse_too_many
from axletree.sky.arrays import Singles

INSTALL = "pip install 'axletree[pictures]'"
# Endings of camera raw files (common practice, no source).
NEEDS_EXTRA = frozenset((
    "3fr", "arw", "cr2", "cr3", "crw", "dcr", "dng", "erf", "iiq", "kdc", "mef",
    "mos", "mrw", "nef", "nrw", "orf", "pef", "raf", "raw", "rw2", "rwl", "sr2",
    "srf", "srw", "x3f",
))  # fmt: skip
_HEIF_BRANDS = (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"heim", b"heis", b"avif")


def is_heif(head: bytes) -> bool:
    """Whether a file that begins so is HEIF (ISO/IEC 23008-12)."""
    return head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS


def read_heif(file: Path) -> Image.Image:
    """A phone's picture, opened."""
    try:
        import pi_heif
    except ImportError:
        raise AxletreeError(
            f"a HEIF picture: '{INSTALL}' reads them; or set the phone's camera to JPEG "
            "('most compatible'), or share the picture as JPEG"
        ) from None
    try:
        return pi_heif.open_heif(file, convert_hdr_to_8bit=True).to_pillow()  # type: ignore[no-any-return]
    except (ValueError, OSError, RuntimeError, SyntaxError):
        raise damaged() from None


def read_raw(file: Path) -> tuple[Singles, FileSays]:
    """A camera's raw light, its colours averaged."""
    try:
        import rawpy
    except ImportError:
        raise AxletreeError(
            f"a camera raw file: '{INSTALL}' reads them; or let the camera write JPEG beside it"
        ) from None
    try:
        with rawpy.imread(str(file)) as raw:
            light = np.asarray(raw.raw_image_visible)
            refuse_too_many(light.shape[1], light.shape[0])
            grey = without_mosaic(light.astype(np.float32))
    except AxletreeError:
        raise
    except (rawpy.LibRawError, OSError, ValueError):
        raise AxletreeError("no camera raw file that can be read, or it is cut off") from None
    return grey, _taken(file)


def _taken(file: Path) -> FileSays:
    """Most raw files begin as TIFF does, with the same tags."""
    exif = Image.Exif()
    try:
        with file.open("rb") as stream:
            exif.load_from_fp(stream)
            return taken_from_exif(exif)
    except (SyntaxError, OSError, ValueError, KeyError):
        return FileSays()


def read_deep_tiff(file: Path) -> Singles:
    """A TIFF of more than 8 bits a colour, its colours averaged."""
    try:
        import tifffile
    except ImportError:
        raise AxletreeError(
            f"a TIFF of 16 bits a colour: '{INSTALL}' reads them; or save it as JPEG"
        ) from None
    try:
        light = np.asarray(tifffile.imread(file), dtype=np.float32)
    except (ValueError, OSError, KeyError, tifffile.TiffFileError):
        raise AxletreeError(
            "this TIFF is packed in a way that is not read, or cut off; save it as JPEG"
        ) from None
    if light.ndim == 3:
        light = light[..., :3].mean(axis=-1) if light.shape[-1] <= 4 else light.mean(axis=0)
    if light.ndim != 2:
        raise AxletreeError("this TIFF holds no single picture; save it as JPEG")
    return light
