"""Which keys of a kit are dimensions, and how well is one known that was read off?

A dimension is a length, a mass or an angle of what hangs together: mount, tube, what sits on it,
eyepieces and camera. A person writes it as a plain number, or with its own error (one standard
deviation, in the unit of the key): `length_mm = { value = 345, error = 3 }`.
"""

from __future__ import annotations

from typing import Any

from pydantic.fields import FieldInfo

TABLES = ("mount", "tube", "eyepiece", "barlow", "camera")
SUFFIXES = ("_mm", "_um", "_kg", "_deg", "_arcmin", "_arcsec")

# A plain number was read off a drawing or a scale: (least error, share of the value), the larger
# of the two, one standard deviation. Our rule for lengths, 2 mm or 2 %; the others by analogy (a
# kitchen scale, an angle laid on by eye), common practice, no source.
READ_OFF: dict[str, tuple[float, float]] = {
    "_mm": (2.0, 0.02),
    "_um": (0.01, 0.02),
    "_kg": (0.02, 0.02),
    "_deg": (2.0, 0.0),
    "_arcmin": (1.0, 0.02),
    "_arcsec": (1.0, 0.02),
}


def suffix_of(key: str) -> str:
    """The unit at the end of a key that may be a dimension's; '' for another key."""
    return next((suffix for suffix in SUFFIXES if key.endswith(suffix)), "")


def is_dimension(table: str, key: str, field: FieldInfo | None) -> bool:
    """Whether a key of a table ('mount.head') is a length, mass or angle with an error."""
    if field is None or table.split(".")[0] not in TABLES or not suffix_of(key):
        return False
    return holds(field.annotation, float)


def holds(annotation: Any, wanted: type) -> bool:
    """Whether a value of this annotation may be, or consist of, the wanted type."""
    inner = getattr(annotation, "__args__", ())
    return annotation is wanted or any(holds(a, wanted) for a in inner)


def read_off_sigma(key: str, value: float) -> float:
    """One standard deviation of a plain number, in the unit of its key, which is a dimension's."""
    least, share = READ_OFF[suffix_of(key)]
    return max(least, share * abs(value))
