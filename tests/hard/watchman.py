"""Who opens what? A guard that stops the network, programs, and files from outside.

Python tells of every file, socket and program through its audit events (PEP 578) before anything
has happened: what must not be is noted and stopped there and then, as if the system had refused
it, so that a test that finds a hole can't do harm through it. Such a hook can't be taken away
again, so one hook is set once and asks who is on watch.
"""

from __future__ import annotations

import contextlib
import errno
import os
import site
import sys
import sysconfig
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

PACKAGE = Path(__file__).parents[2] / "src" / "axletree"
READABLE = tuple(
    os.path.realpath(p)
    for p in [
        PACKAGE, PACKAGE.parents[1] / "docs", *sysconfig.get_paths().values(),
        *site.getsitepackages(), sys.prefix, sys.base_prefix + "/lib", "/usr/share/zoneinfo",
        "/dev/null", "/dev/urandom",
        "/proc/self", "/proc/meminfo", "/proc/cpuinfo", "/sys/devices/system/cpu",
        "/sys/fs/cgroup",
    ]
)  # fmt: skip
FETCHING = ("socket.connect", "socket.getaddrinfo", "socket.sendto", "urllib.Request",
            "http.client.connect", "ftplib.connect", "smtplib.connect")  # fmt: skip
RUNNING = ("os.system", "os.exec", "os.posix_spawn", "os.spawn", "subprocess.Popen", "pty.spawn",
           "os.startfile", "ctypes.dlopen")  # fmt: skip
CHANGING = ("os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.link", "os.symlink",
            "os.truncate", "os.chmod", "os.chown", "shutil.rmtree", "shutil.move")  # fmt: skip


@dataclass
class Watch:
    """What happened while on watch that must not happen."""

    folder: str
    free_to_read: bool = False
    seen: list[str] = field(default_factory=list)

    def event(self, name: str, details: tuple[Any, ...]) -> None:
        """Look at one event; raises PermissionError for what must not happen."""
        if name in FETCHING:
            self._stop(f"{name} {details[-1]!r}")
        elif name in RUNNING:
            if name != "ctypes.dlopen" or not self._may_read(str(details[0] or sys.prefix)):
                self._stop(f"{name} {details[0]!r}")
        elif name == "open" and isinstance(details[0], (str, bytes, os.PathLike)):
            path, mode, flags = os.fsdecode(details[0]), details[1], details[2]
            writes = any(c in (mode or "") for c in "wax+") or bool(
                (flags or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
            )
            if writes:
                self._change("open for writing", path)
            elif not self._may_read(path) and not self.free_to_read:
                self._stop(f"open {path!r}")
        elif name == "sqlite3.connect":
            self._change(name, os.fsdecode(details[0]))
        elif name in CHANGING:
            for path in details[:2] if name in ("os.rename", "os.link") else details[:1]:
                if isinstance(path, (str, bytes, os.PathLike)):
                    self._change(name, os.fsdecode(path))

    def _stop(self, what: str) -> None:
        self.seen.append(what)
        raise PermissionError(errno.EACCES, "stopped by the watchman", what)

    def _change(self, what: str, path: str) -> None:
        real = os.path.realpath(path)
        if "__pycache__" in real or real == "/dev/null" or _within(real, self.folder):
            return
        if what == "os.mkdir" and os.path.isdir(real):
            return  # a folder that is there already
        self._stop(f"{what} {path!r}")

    def _may_read(self, path: str) -> bool:
        real = os.path.realpath(path)
        return any(_within(real, root) for root in (*READABLE, self.folder))


def _within(path: str, root: str) -> bool:
    return path == root or path.startswith(root.rstrip("/") + "/")


_on_watch: list[Watch] = []
_hooked = False


def _hook(name: str, details: tuple[Any, ...]) -> None:
    if _on_watch:
        watch = _on_watch.pop()  # looking at a path may raise events of its own
        try:
            watch.event(name, details)
        finally:
            _on_watch.append(watch)


@contextlib.contextmanager
def on_watch(folder: Path, *, free_to_read: bool = False) -> Iterator[Watch]:
    """Nothing but `folder` may be written to, nothing outside it and the libraries read.

    `free_to_read` lets everything be read: for words that a person types with their own hands.
    """
    global _hooked
    if not _hooked:
        sys.addaudithook(_hook)
        _hooked = True
    watch = Watch(os.path.realpath(folder), free_to_read)
    _on_watch.append(watch)
    try:
        yield watch
    finally:
        _on_watch.remove(watch)
