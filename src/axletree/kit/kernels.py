"""Shall a big table be worked out by compiled code, and where is that code kept?

The extra `axletree[fast]` brings a compiler (numba). Without it everything works, in numpy. With
it two inner loops can be compiled: the night table's (`sky.table_kernel`) and the clearance
map's (`mount.map_kernel`). Importing the compiler takes some tenths of a second and the first
compiling some seconds, so that one table alone is there sooner in numpy: 'auto' takes compiled
code where it is loaded already, or where the work is so big that it pays for all of that. Having
the extra makes nobody wait longer.

Compiled code is kept in $XDG_CACHE_HOME/axletree, or ~/.cache/axletree. Where nothing can be kept
or read, it is compiled again in every process that asks for it.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import wraps
from pathlib import Path
from typing import Any, Literal, ParamSpec, TypeVar

from axletree.kit.errors import AxletreeError

Way = Literal["auto", "numpy", "compiled"]
WAYS: tuple[Way, ...] = ("auto", "numpy", "compiled")
SWITCH = "AXLETREE_KERNELS"  # in the environment: what 'auto' is to mean

# More than a busy machine took (docs/decisions/compiled-kernels.md).
_IMPORT_S = 1.0
_COMPILE_S = 15.0
_LEAST_S = 0.002  # to save less is not worth a second way of doing it
# The sums may be joined and reordered: a few units in the last place.
_LOOSE = {"contract", "reassoc", "arcp", "nsz"}

P = ParamSpec("P")
R = TypeVar("R")


def kernel(module: str, way: Way, saved_s: float) -> Any:
    """The compiled module of this name where it is to do the work; None where numpy is.

    `saved_s` is how many seconds it would save here. `way` is 'numpy', 'compiled' (refused where
    the extra is missing) or 'auto', which the environment's AXLETREE_KERNELS can turn into one of
    the others (and where the extra is missing, it is numpy).
    """
    wanted = os.environ.get(SWITCH, "auto") if way == "auto" else way
    if wanted not in WAYS:
        raise AxletreeError(f"way '{wanted}' is not one of {', '.join(WAYS)}")
    if wanted == "numpy" or (wanted == "auto" and not _pays(module, saved_s)):
        return None
    try:
        return importlib.import_module(module)
    except ImportError as error:  # not installed, or unfit for this numpy
        if way != "compiled":
            return None
        words = f"compiled kernels need the extra, pip install 'axletree[fast]' ({error})"
        raise AxletreeError(words) from error


def cache_folder() -> Path:
    """Where compiled code is kept; the folder need not be there."""
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "axletree"


def _pays(module: str, saved_s: float) -> bool:
    """Whether this work alone pays for loading what isn't loaded yet."""
    if module in sys.modules:
        return saved_s > _LEAST_S
    if saved_s < _IMPORT_S or importlib.util.find_spec("numba") is None:
        return False
    kept = next(_kept(module, "*"), None)
    return saved_s > _IMPORT_S + (_COMPILE_S if kept is None else 0.0)


def _kept(module: str, function: str) -> Iterator[Path]:
    """Files of compiled code, wherever below the folder."""
    return cache_folder().rglob(f"{module.rpartition('.')[2]}.{function}-*.nb[ic]")


def _forget(function: Callable[..., Any]) -> None:
    with suppress(OSError):
        for path in list(_kept(function.__module__, function.__name__)):
            path.unlink()


def inner(*, loose: bool = False) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """For a function that only compiled functions call. `loose` sums differ in their last bits."""

    def decorate(function: Callable[P, R]) -> Callable[P, R]:
        return _jit(function, loose, keep=False)  # type: ignore[no-any-return]

    return decorate


def compiled(*, loose: bool = False) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """For a function that is called from outside: compiled on its first call, or read.

    It lets other threads run meanwhile. A folder that can't be used is no reason to stop; a file
    that can't is thrown away.
    """

    def decorate(function: Callable[P, R]) -> Callable[P, R]:
        plain = _jit(function, loose, keep=False)
        chosen = [_jit(function, loose, keep=True) if _can_write(cache_folder()) else plain]

        @wraps(function)
        def call(*args: P.args, **kwargs: P.kwargs) -> R:
            work = chosen[0]
            try:
                return work(*args, **kwargs)  # type: ignore[no-any-return]
            except Exception:  # reading a spoilt file raises nearly anything
                if work is plain:
                    raise
                _forget(function)
                chosen[0] = plain
                return plain(*args, **kwargs)  # type: ignore[no-any-return]

        return call

    return decorate


def _jit(function: Callable[..., Any], loose: bool, *, keep: bool) -> Any:
    import numba

    before = numba.config.CACHE_DIR
    try:
        numba.config.CACHE_DIR = str(cache_folder())
        return numba.njit(
            nogil=True, error_model="numpy", cache=keep, fastmath=_LOOSE if loose else False
        )(function)
    finally:
        numba.config.CACHE_DIR = before


def _can_write(folder: Path) -> bool:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return True
    except OSError:
        return False
