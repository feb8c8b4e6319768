"""How are marks on pictures read from a file, or from what a page sends?"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from axletree.kit.errors import AxletreeError
from axletree.mount.photographed.picture import MOST_PICTURES, KnownLength, MarkedPicture, RigPlace

_KEYS = {"width_px", "height_px", "marks", "known", "focal_35mm", "mark_px"}
_KNOWN_KEYS = {"from", "to", "length_mm", "error_mm"}


def marks_of_text(text: str) -> tuple[MarkedPicture, ...]:
    """The pictures of a file in TOML, a `[[picture]]` each. Refuses what is no such file."""
    try:
        raw = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise AxletreeError(f"this is not TOML: {error}") from None
    return pictures_of(raw.get("picture"))


def pictures_of(raw: Any) -> tuple[MarkedPicture, ...]:
    """The pictures of a list of tables."""
    if not isinstance(raw, list) or not raw:
        raise AxletreeError("no [[picture]] with its marks")
    if len(raw) > MOST_PICTURES:
        raise AxletreeError(f"{MOST_PICTURES} pictures are enough")
    return tuple(_picture(one, f"picture {k}") for k, one in enumerate(raw, start=1))


def _picture(raw: Any, where: str) -> MarkedPicture:
    if not isinstance(raw, Mapping):
        raise AxletreeError(f"{where}: not a table")
    unknown = set(raw) - _KEYS
    if unknown:
        raise AxletreeError(f"{where}: unknown key '{sorted(unknown)[0]}'")
    marks = raw.get("marks")
    if not isinstance(marks, Mapping):
        raise AxletreeError(f"{where}: no marks")
    found = []
    for name, at in marks.items():
        if not isinstance(at, list) or len(at) != 2:
            raise AxletreeError(f"{where}, {name}: write two numbers, right and down in pixels")
        x, y = (_number(v, f"{where}, {name}") for v in at)
        found.append((_place(name, where), x, y))
    focal, mark = raw.get("focal_35mm"), raw.get("mark_px")
    try:
        return MarkedPicture(
            round(_number(raw.get("width_px"), f"{where}, width_px")),
            round(_number(raw.get("height_px"), f"{where}, height_px")),
            tuple(found),
            _known(raw.get("known"), where),
            None if focal is None else _number(focal, f"{where}, focal_35mm"),
            None if mark is None else _number(mark, f"{where}, mark_px"),
        )
    except AxletreeError as error:
        said = str(error)
        raise AxletreeError(said if said.startswith(where) else f"{where}: {said}") from None


def _known(raw: Any, where: str) -> KnownLength | None:
    if raw is None:
        return None
    if not isinstance(raw, Mapping) or not set(raw) <= _KNOWN_KEYS or "from" not in raw:
        raise AxletreeError(
            f"{where}: write known = {{ from = 'tube front', to = 'tube back', length_mm = 690, "
            "error_mm = 2 }"
        )
    error = raw.get("error_mm", 2.0)
    return KnownLength(
        _place(raw["from"], where), _place(raw.get("to"), where),
        _number(raw.get("length_mm"), f"{where}, length_mm"), _number(error, f"{where}, error_mm"),
    )  # fmt: skip


def _place(name: Any, where: str) -> RigPlace:
    if name not in tuple(RigPlace):
        raise AxletreeError(f"{where}: '{name}' is none of: {', '.join(RigPlace)}")
    return RigPlace(name)


def _number(value: Any, where: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e6:
        raise AxletreeError(f"{where}: write a number")
    return float(value)
