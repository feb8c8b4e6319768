"""What would change if a value that was guessed for the kit were a little larger?"""

from __future__ import annotations

from typing import Any

from axletree.kit.kit import Kit

# A guessed dimension is good to perhaps 20 per cent at worst (see kit.defaults): half of that
# is taken for one standard deviation.
GUESS_SIGMA = 0.10


def enlarged(kit: Kit, name: str, factor: float = 1.0 + GUESS_SIGMA) -> Kit:
    """The kit with one number, named as in `Kit.guessed` ('tube.finder.offset_mm'), times `factor`.

    The changed kit is not checked again: a tenth more never makes nonsense of a sound one.
    """
    first, *rest = name.split(".")
    return kit.model_copy(update={first: _enlarged(getattr(kit, first), rest, factor)})


def _enlarged(part: Any, path: list[str], factor: float) -> Any:
    if not path:
        return part * factor
    first, *rest = path
    return part.model_copy(update={first: _enlarged(getattr(part, first), rest, factor)})


def guessed_of(kit: Kit, names: tuple[str, ...]) -> list[str]:
    """Those of `names` that this kit had to guess, and still has."""
    guessed = set(kit.guessed)
    return [name for name in names if name in guessed and _value(kit, name) is not None]


def _value(kit: Kit, name: str) -> Any:
    part: Any = kit
    for key in name.split("."):
        part = getattr(part, key, None)
    return part
