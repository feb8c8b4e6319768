"""What is a picture that a page has sent: reduced there, and with what its file said beside it?"""

from __future__ import annotations

import io
import warnings

from PIL import Image, UnidentifiedImageError

from axletree.kit.errors import AxletreeError
from axletree.kit.frozen import dataclass
from axletree.pole.picture_files.exif import FileSays
from axletree.pole.picture_files.limits import LEAST_SIDE_PX, damaged
from axletree.pole.picture_files.reading import LONGEST_SIDE_PX, PictureFile, light_of

_FORMATS = ("JPEG", "PNG")


@dataclass(frozen=True)
class PictureSent:
    """One reduced picture as a file's bytes; `width_px`: how wide it was before, None if unknown.

    `says`: what its file said, read where it was reduced.
    """

    name: str
    data: bytes
    says: FileSays
    width_px: int | None = None


def read_sent(sent: PictureSent) -> PictureFile:
    """Its light; refuses in one sentence what is no such picture, larger or damaged."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(sent.data), formats=_FORMATS)
    except Image.DecompressionBombError:
        raise _too_large(sent) from None
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError):
        raise AxletreeError(f"{sent.name}: no JPEG or PNG that can be read") from None
    with image:
        width, height = image.size
        # Nothing larger is sent by a page; what claims to be isn't unpacked.
        if max(width, height) > LONGEST_SIDE_PX:
            raise _too_large(sent)
        if min(width, height) < LEAST_SIDE_PX:
            raise AxletreeError(f"{sent.name}: {width} x {height} pixels are too few for stars")
        try:
            grey, reduced = light_of(image)
        except AxletreeError as error:
            raise AxletreeError(f"{sent.name}: {error}") from None
        except (OSError, SyntaxError, ValueError, EOFError):
            raise AxletreeError(f"{sent.name}: {damaged()}") from None
    before = sent.width_px or width
    if before < width:
        raise AxletreeError(f"{sent.name}: it is {width} pixels wide and was {before} before")
    return PictureFile(sent.name, grey, reduced * before / width, sent.says)


def _too_large(sent: PictureSent) -> AxletreeError:
    return AxletreeError(
        f"{sent.name}: a picture sent by the page is at most {LONGEST_SIDE_PX} pixels long"
    )
