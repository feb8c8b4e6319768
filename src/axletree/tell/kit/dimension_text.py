"""In which words is one dimension of the rig named, with its value and error?"""

from __future__ import annotations

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.problems import named
from axletree.kit.writing.units import shown, shown_error, unit_of
from axletree.mount.dimensions.names import key_of, table_key
from axletree.tell.kit.questions_text import unit_words, words_for
from axletree.tell.shared.words import small

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
# Parts of which a kit may have several, and those whose lines say 'its' without saying whose.
_PARTS = {
    "mount.weight": "counterweight", "eyepiece": "eyepiece", "barlow": "Barlow lens",
    "tube.accessory": "thing on the tube",
}  # fmt: skip
_ALONE = {"tube.finder": "Finder", "camera": "Camera"}
# Lines of the kit's page that go on from the line above.
_WHOLE = {
    "mount.head.crossing_above_mm": "Hinge to the line of the polar axis, square to it",
    "mount.tripod.lean_to_right_deg": "Its top leans to the right, facing the pole",
    "tube.balance_from_front_mm": "Front of the tube to its own balance point, bare",
}  # fmt: skip


def dimension_words(name: str) -> str:
    """A dimension of a dotted name: 'Second counterweight: half its width'."""
    try:
        asked = _WHOLE.get(table_key(name)) or words_for(table_key(name))
    except KeyError:
        raise AxletreeError(f"no dimension of a kit is called {name!r}") from None
    table = table_key(name).rpartition(".")[0]
    if name.endswith("]"):
        number = int(name.rpartition("[")[2].rstrip("]"))
        return f"{asked}, the {_ordinal(number)}"
    if table in _ALONE:
        return f"{_ALONE[table]}: {small(asked)}"
    if table in _PARTS:
        number = next(part for part in named(name) if isinstance(part, int)) + 1
        return f"{_ordinal(number).capitalize()} {_PARTS[table]}: {small(asked)}"
    return asked


def quantity_words(name: str, value: float, sigma: float | None, units: str) -> str:
    """A value with its error in the person's units: '152 ± 9 mm', with a true minus."""
    key = key_of(name)
    unit = unit_of(key, units)
    places = 0 if unit is not None and unit.value == "mm" else 1
    mark = unit_words(unit)
    told = f"{shown(value, key, units):z.{places}f}".replace("-", "−")
    if sigma is not None:
        told += f" ± {shown_error(sigma, key, units):.{places}f}"
    return f"{told}{'' if mark == '°' else ' '}{mark}".rstrip()


def _ordinal(number: int) -> str:
    return _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"number {number}"
