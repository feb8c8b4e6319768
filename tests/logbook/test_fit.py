"""A row that is unfit for the record is refused with its column and what would be right."""

from __future__ import annotations

import pytest

from axletree.logbook.fit import LONGEST_TEXT, why_unfit


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"date": "2026-13-05"}, "'date' '2026-13-05' is not a date; write it like 2026-12-05"),
        ({"date": "20261205"}, "is not a date"),
        ({"at": "tonight"}, "is not a time; write it like 2026-12-05T20:30:00+00:00"),
        ({"at": "2026-12-05T20:30:00"}, "has no zone"),
        ({"text": "a\ud83d"}, "holds a broken character"),
        ({"text": "x" * (LONGEST_TEXT + 1)}, "is too long"),
        ({"latitude_deg": True}, "is not a number"),
    ],
)
def test_unfit(row: dict[str, object], said: str) -> None:
    words = why_unfit(row)
    assert said in words
    assert len(words) < 120


def test_fit() -> None:
    assert why_unfit({"date": "2026-12-05", "at": "2026-12-05T20:30:00+00:00", "text": "é"}) == ""
