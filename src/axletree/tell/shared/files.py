"""How are files written so that nobody ever finds half of one, or one of another evening's set?"""

from __future__ import annotations

import contextlib
import glob
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.files import refuse_streams

SCRAP_AFTER_S = 300.0


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` beside `path` and move it into place; refuse in one line what cannot be.

    A link is followed; a pipe or a device is refused, never replaced.
    """
    write_set({path: content})


def write_set(files: Mapping[Path, bytes]) -> None:
    """Write files that belong together: all lie on the disk before the first takes its place.

    If one cannot take its place, those before it are put back as they were. Between two moves
    only a machine that stops at that moment can leave files of two sets.
    """
    laid: list[tuple[Path, str]] = []
    before: list[tuple[Path, str | None]] = []
    path = Path()
    try:
        for path, content in files.items():
            refuse_streams(path)
            place = Path(os.path.realpath(path))
            laid.append((place, _laid_beside(place, content)))
        for place, temporary in laid:
            path = place
            if len(laid) > 1:
                before.append((place, _kept(place)))
            os.replace(temporary, place)
    except OSError as error:
        _put_back(before)
        reason = error.strerror or str(error)
        raise AxletreeError(f"{path}: cannot be written ({reason})") from None
    finally:
        for scrap in (*(made for _, made in laid), *(old for _, old in before if old)):
            with contextlib.suppress(OSError):
                os.unlink(scrap)
    for place, _ in laid:
        _sweep(place)


def _laid_beside(place: Path, content: bytes) -> str:
    """The name of a new file beside `place` that holds the content, on the disk."""
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(prefix=f".{place.name}.", dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(temporary, 0o666 & ~mask)
    except BaseException:
        os.unlink(temporary)
        raise
    return temporary


def _kept(place: Path) -> str | None:
    """A second name of the file that stands at `place`; None where there is none, or no links."""
    handle, name = tempfile.mkstemp(prefix=f".{place.name}.", dir=place.parent)
    os.close(handle)
    os.unlink(name)
    try:
        os.link(place, name)
    except OSError:
        return None
    return name


def _put_back(before: list[tuple[Path, str | None]]) -> None:
    for place, old in before:
        with contextlib.suppress(OSError):
            if old is not None:
                os.replace(old, place)


def _sweep(path: Path) -> None:
    """Remove what earlier writings of this file left beside it when they were killed."""
    with contextlib.suppress(OSError):
        now = path.stat().st_mtime
        for scrap in path.parent.glob(f".{glob.escape(path.name)}.????????"):
            if now - scrap.stat().st_mtime > SCRAP_AFTER_S:
                scrap.unlink()
