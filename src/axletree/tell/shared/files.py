"""How is a file written so that nobody ever finds half of it?"""

from __future__ import annotations

import contextlib
import glob
import os
import tempfile
from pathlib import Path

from axletree.kit.errors import AxletreeError

SCRAP_AFTER_S = 300.0


def write_whole(path: Path, content: bytes) -> None:
    """Write `content` beside `path` and move it into place; refuse in one line what cannot be."""
    temporary: str | None = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(temporary, 0o666 & ~mask)
        os.replace(temporary, path)
        _sweep(path)
    except OSError as error:
        if temporary is not None and os.path.exists(temporary):
            os.unlink(temporary)
        reason = error.strerror or str(error)
        raise AxletreeError(f"{path}: cannot be written ({reason})") from None


def _sweep(path: Path) -> None:
    """Remove what earlier writings of this file left beside it when they were killed."""
    now = path.stat().st_mtime
    for scrap in path.parent.glob(f".{glob.escape(path.name)}.????????"):
        with contextlib.suppress(OSError):
            if now - scrap.stat().st_mtime > SCRAP_AFTER_S:
                scrap.unlink()
