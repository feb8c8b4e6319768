"""The person's own list: a broken row is named, the rest kept or all refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import erfa
import numpy as np
import pytest

from axletree.evening.brought.own_objects import own_objects_of, read_own_objects
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_text

NOON = datetime(2026, 12, 5, 12, tzinfo=UTC)

LIST = """name,ra_h,dec_deg,magnitude,size_arcmin,note
Our cluster,5:35:17.3,-5:23:28,4.0,65,look for the four stars
# a comment, and an empty line

Plain star,6.75,-16.72,-1.4,,
"""


def test_good_rows() -> None:
    """Sexagesimal place of the Trapezium as every handbook prints it: 5h35m17s, -5 23 28."""
    own = read_own_objects(LIST, "own.csv", NOON)
    cluster, star = own.objects
    assert own.broken == ()
    assert cluster.ra_deg == pytest.approx(83.822, abs=1e-3)
    assert cluster.dec_deg == pytest.approx(-5.3911, abs=1e-4)
    assert (cluster.kind, star.kind) == ("other", "star")
    assert cluster.size_minor_arcmin == 65.0
    assert star.size_major_arcmin is None
    assert cluster.catalogue_id == "own:Our cluster"


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("Bad,25.0,10,5,1,", "line 6, ra_h: 25.0 must lie between 0 and 24"),
        ("Bad,5.0,95,5,1,", "line 6, dec_deg: 95 must lie between -90 and 90"),
        ("Bad,5.0,ten,5,1,", "line 6, dec_deg: 'ten' is not a number"),
        ("Bad,5.0,,5,1,", "line 6, dec_deg: is missing"),
        (",5.0,10,5,1,", "line 6, name: is missing"),
        ("Bad,,10,5,1,", "line 6, ra_h, ra_deg: one of them is needed"),
        ("Bad,5.0,10,nan,1,", "line 6, magnitude: 'nan' is not a number"),
        ("Bad,5.0,10,5,-1,", "line 6, size_arcmin"),
        ("Bad,5.0,10,5,1,a,b", "line 6: 7 cells, but there are 6 columns"),
        ("Plain star,5.0,10,5,1,", "line 6, name: 'Plain star' stands in line 5 already"),
    ],
)
def test_broken_row_named_rest_kept_or_all_refused(row: str, words: str) -> None:
    text = LIST + row + "\n"
    own = read_own_objects(text, "own.csv", NOON)
    assert [thing.name for thing in own.objects] == ["Our cluster", "Plain star"]
    assert own.broken[0].line == 6
    assert words in str(own.broken[0].refusal)
    with pytest.raises(AxletreeError) as refused:
        read_own_objects(text, "own.csv", NOON, all_or_none=True)
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "empty"),
        ("name,ra_h,dec_deg\n", "no rows"),
        ("name,ra,dec_deg\nA,1,1\n", "did you mean 'ra_h'"),
        ("name,ra_h,ra_h,dec_deg\nA,1,1,1\n", "stands twice"),
        ("name,dec_deg\nA,1\n", "are needed"),
        ("name,ra_h,dec_deg\nA,1,99\nB,99,1\n", "and 1 more"),
    ],
)
def test_file_refused_as_a_whole(text: str, words: str) -> None:
    with pytest.raises(AxletreeError, match=words):
        read_own_objects(text, "own.csv", NOON)


def test_semicolons_and_decimal_commas() -> None:
    own = read_own_objects("name;ra_deg;dec_deg\nHier;83,82;-5,39\n", "own.csv", NOON)
    assert own.objects[0].ra_deg == 83.82


COMET = """name,ra_deg,dec_deg,magnitude,kind,at
Comet,10.0,60.0,8.0,comet,2026-12-05T00:00
Comet,40.0,62.0,7.0,comet,2026-12-06T00:00
Comet,70.0,60.0,7.5,comet,2026-12-07T00:00
"""


def test_moving_object_between_its_rows() -> None:
    """Half way in time is half way along the great circle, by ERFA's separation."""
    thing = read_own_objects(COMET, "own.csv", NOON).objects[0]
    rad = np.radians
    whole = erfa.seps(rad(10.0), rad(60.0), rad(40.0), rad(62.0))
    first = erfa.seps(rad(10.0), rad(60.0), rad(thing.ra_deg), rad(thing.dec_deg))
    second = erfa.seps(rad(thing.ra_deg), rad(thing.dec_deg), rad(40.0), rad(62.0))
    assert first == pytest.approx(whole / 2, rel=1e-9)
    assert second == pytest.approx(whole / 2, rel=1e-9)
    assert thing.magnitude_v == pytest.approx(7.5)
    on_a_row = read_own_objects(COMET, "own.csv", NOON + timedelta(hours=12)).objects[0]
    assert (on_a_row.ra_deg, on_a_row.dec_deg) == pytest.approx((40.0, 62.0))


def test_moving_object_outside_its_rows_is_not_invented() -> None:
    own = read_own_objects(COMET, "own.csv", NOON + timedelta(days=9))
    assert own.objects == ()
    assert "from 2026-12-05 to 2026-12-07 only" in str(own.broken[0].refusal)
    with pytest.raises(AxletreeError, match="only, not on"):
        read_own_objects(COMET, "own.csv", NOON + timedelta(days=9), all_or_none=True)
    doubled = COMET + "Comet,71.0,60.0,7.5,comet,2026-12-07T00:00\n"
    own = read_own_objects(doubled, "own.csv", NOON)
    assert "two rows" in str(own.broken[0].refusal)
    assert len(own.objects) == 1


def test_file_named_in_the_kit(tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text(LIST, encoding="utf-8")
    text = demo_text().replace("[habits]", '[habits]\nown_objects_file = "mine.csv"')
    kit, problems = check_text(text)
    assert kit is not None, problems
    assert len(own_objects_of(kit, tmp_path, NOON).objects) == 2
    with pytest.raises(AxletreeError, match="no such file"):
        own_objects_of(kit, tmp_path / "elsewhere", NOON)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,ra_h,dec_deg,size_arcmin,size_minor_arcmin\nA,5,10,3,4\n",
         "line 2, size_minor_arcmin: must not exceed size_arcmin"),
        ("name,ra_h,dec_deg,at\nA,5,10,tonight\n",
         "line 2, at: 'tonight' is not a time; write 2026-12-05T20:00"),
        ("name,ra_h,dec_deg\n" + "A" * 200_000 + ",5,10\n", "line 2: cannot be parted"),
        ("name,ra_h,dec_deg\n" + "A,5,10\n" * 200_000, "more than"),
    ],
    ids=["minor axis", "time", "long cell", "many rows"],
)  # fmt: skip
def test_more_rows_that_are_refused_with_line_and_column(text: str, words: str) -> None:
    with pytest.raises(AxletreeError) as refused:
        read_own_objects(text, "own.csv", NOON)
    assert words in str(refused.value)


def test_a_folder_and_a_huge_file_are_no_lists(tmp_path: Path) -> None:
    kit, _ = check_text(demo_text())
    assert kit is not None
    huge = tmp_path / "huge.csv"
    with huge.open("wb") as file:
        file.truncate(200_000_000)
    for file_, words in ((tmp_path, "cannot be read"), (huge, "MB, not a list")):
        with pytest.raises(AxletreeError, match=words):
            own_objects_of(kit, None, NOON, file=file_)
