"""Files of elements that went wrong on the way: letters lost, doubled, swapped, cut, foreign.

Whatever stands in them, they are read, or refused in one line. AXLETREE_LONG=1 spoils many more.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from axletree.evening.brought.elements import moving_objects, read_elements
from axletree.evening.brought.satellites import read_satellites
from axletree.kit.errors import AxletreeError
from axletree.sky.time.instants import Instants
from orbit_lines import Made, comet_line, minor_planet_line
from satellite_lines import MadeSatellite, satellite_lines

MADE = Made(0.9, 0.6, 40.0, 75.0, 100.0, 2461400.5, 2461360.5, 6.5, 0.15)
ORBITS = "\n".join([comet_line(MADE), minor_planet_line(MADE), comet_line(MADE, "998P/Other")])
SATELLITES = "\n".join(["MADE UP", *satellite_lines(MadeSatellite(2461379.5))])
FILES = 500 if os.environ.get("AXLETREE_LONG") else 40
NOW = Instants.from_tt_jd([2461380.0])

LETTERS = st.one_of(st.characters(), st.sampled_from("0123456789.-+eE \t\r\n\x00\x1b~_AZaz"))


@st.composite
def mangled(draw: st.DrawFn, text: str) -> str:
    """The text with some of its letters changed, lost or put in."""
    letters = list(text)
    for _ in range(draw(st.integers(1, 12))):
        at = draw(st.integers(0, len(letters) - 1))
        how = draw(st.integers(0, 2))
        if how == 0:
            letters[at] = draw(LETTERS)
        elif how == 1 and len(letters) > 1:
            del letters[at]
        else:
            letters.insert(at, draw(LETTERS))
    return "".join(letters)


def read_or_refused(read: Callable[[str, str], Any], text: str) -> Any:
    """What was read; None where it is refused, in one line."""
    refusal = ""
    try:
        return read(text, "mine.txt")
    except AxletreeError as error:
        refusal = str(error)
    assert refusal
    assert "\n" not in refusal
    return None


@settings(max_examples=FILES, deadline=None)
@given(mangled(ORBITS))
def test_mangled_orbits_are_read_or_refused_in_one_line(text: str) -> None:
    read = read_or_refused(read_elements, text)
    if read is None:
        return
    assert all("\n" not in str(row.refusal) for row in read.broken)
    for thing in moving_objects(read.bodies, NOW):
        assert thing.ra_deg is not None
        assert 0.0 <= thing.ra_deg <= 360.0


@settings(max_examples=FILES, deadline=None)
@given(mangled(SATELLITES))
def test_mangled_satellites_are_read_or_refused_in_one_line(text: str) -> None:
    read = read_or_refused(read_satellites, text)
    if read is None:
        return
    found, broken = read
    assert len(found) <= 1
    assert all("\n" not in str(row.refusal) for row in broken)


@settings(max_examples=FILES, deadline=None)
@given(st.text(max_size=500))
def test_any_text_at_all(text: str) -> None:
    assert read_or_refused(read_elements, text) is None
    assert read_or_refused(read_satellites, text) is None
