"""A bar stands behind the end of a room as the rigs drawn have it: to both sides, or to one."""

from __future__ import annotations

import numpy as np
import pytest

from axletree.mount.sure.room_doubt import RoomDoubt
from axletree.tell.side.doubt_text import bar_words

NONE = np.zeros(0)


def doubt(less_min: float, more_min: float) -> RoomDoubt:
    told_s = 4 * 3600.0
    early_s, late_s = told_s - less_min * 60, told_s + more_min * 60
    return RoomDoubt(told_s, early_s, late_s, None, 0.0, (), (), NONE, NONE, NONE, 0.0)


@pytest.mark.parametrize(
    ("less_min", "more_min", "said"),
    [
        (0.0, 0.0, ""),
        (0.3, 0.4, ""),
        (20.0, 32.0, " ± 26 min"),
        (57.0, 101.0, " ± 1 h 19 min"),
        # The sky ends it unless a part does before; a part that most rigs pass.
        (133.0, 0.0, " or 2 h 13 min less"),
        (133.0, 20.0, " or 2 h 13 min less"),
        (133.0, 40.0, " ± 1 h 26 min"),
        (2.0, 45.0, " or 45 min more"),
    ],
)
def test_an_end_errs_to_both_sides_or_to_one(less_min: float, more_min: float, said: str) -> None:
    assert bar_words(doubt(less_min, more_min)) == said
