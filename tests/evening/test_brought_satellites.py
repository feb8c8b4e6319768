"""Satellites from a file that the person brings: read, aged, told as times to look up.

The satellites are made up (`satellite_lines`); where they stand is held against other codes in
`tests/outside/test_satellites.py`.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from axletree.evening.brought.satellites import read_satellites, satellites_of_kit
from axletree.evening.sheet.elsewhere import moved_to
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.evening.special.crossings import MOST_TOLD
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_text
from axletree.sky.observer import Observer, observer_of
from axletree.sky.satellites.crossings import CrossingEvent, CrossingsAsked, crossings_in
from axletree.sky.satellites.two_line import TwoLine, checksum, read_set
from axletree.sky.sun_rule import SunRule
from axletree.sky.time.instants import Instants
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from satellite_lines import MadeSatellite, satellite_lines

EPOCH_JD = 2461379.5  # 2026 December 5, 0 h
NIGHT = datetime(2026, 12, 5, 18, tzinfo=UTC)
LINES = satellite_lines(MadeSatellite(EPOCH_JD))
ONE = "\n".join(["MADE UP", *LINES, ""])


def summed(line: str) -> str:
    """The line with the last digit that belongs to it."""
    return line[:68] + str(checksum(line))


def kit_with(tmp_path: Path, text: str, more: str = "") -> Kit:
    (tmp_path / "sats.txt").write_text(text, encoding="utf-8")
    written = demo_text().replace("[habits]", '[habits]\nsatellite_files = ["sats.txt"]', 1) + more
    (tmp_path / "axletree.toml").write_text(written, encoding="utf-8")
    kit, problems = check_text(written)
    assert kit is not None, problems
    return kit


def many(count: int, ages: tuple[float, ...] = (0.5,)) -> str:
    """A file of made-up satellites, the ages of their elements in turn."""
    rng = np.random.default_rng(7)
    rows = []
    for k in range(count):
        made = MadeSatellite(
            EPOCH_JD - ages[k % len(ages)], rng.uniform(35, 98), rng.uniform(0, 360),
            rng.uniform(0, 360), rng.uniform(13, 15.6), number=99001 + k,
        )  # fmt: skip
        rows += [f"MADE UP {k + 1}", *satellite_lines(made)]
    return "\n".join(rows) + "\n"


def test_sets_with_and_without_names_and_with_zero_before_them() -> None:
    other = satellite_lines(MadeSatellite(EPOCH_JD, number=99002))
    third = satellite_lines(MadeSatellite(EPOCH_JD, number=99003))
    text = "\n".join(["# mine", *LINES, "", "0 Second", *other, "Third one", *third])
    found, broken = read_satellites(text, "sats.txt")
    assert [(one.name, one.number) for one in found] == [
        ("", 99001), ("Second", 99002), ("Third one", 99003),
    ]  # fmt: skip
    assert broken == ()
    assert found[0].epoch_jd == pytest.approx(EPOCH_JD, abs=1e-8)
    assert found[0].turns_per_day == pytest.approx(15.5)


def test_numbers_with_a_letter() -> None:
    """Alpha-5: A is 10, I and O are left out, Z is 33 (space-track's description, from memory)."""
    first, second = LINES
    for head, number in (("A", 100001), ("H", 170001), ("J", 180001), ("P", 230001), ("Z", 330001)):
        lines = [summed(f"{line[:2]}{head}0001{line[7:]}") for line in (first, second)]
        assert read_set(lines).number == number


def broken_sets() -> dict[str, tuple[list[str], int, str]]:
    """A set, the line of it that is wrong, and what is said."""
    first, second = LINES
    return {
        "short": ([first[:60], second], 0, "60 columns instead of 69"),
        "sum": ([first, second[:68] + str((int(second[68]) + 1) % 10)], 1, "last digit must be"),
        "letters": ([first, summed(second[:20] + "x" + second[21:])], 1, "not written in the colu"),
        "other": ([first, summed(second[:2] + "99009" + second[7:])], 1, "another satellite than"),
        "alone": ([first], 0, "belongs to no pair"),
        "words": (["good evening"], 0, "belongs to no pair"),
        "day": ([summed(first[:20] + "999" + first[23:]), second], 0, "day 999"),
        "slow": ([first, summed(second[:52] + " 0.00000001" + second[63:])], 1, "turns a day"),
    }


@pytest.mark.parametrize("which", broken_sets())
def test_a_broken_set_is_named_and_the_rest_is_used(which: str) -> None:
    lines, wrong, words = broken_sets()[which]
    good = satellite_lines(MadeSatellite(EPOCH_JD, number=99005))
    found, broken = read_satellites("\n".join([*lines, "Good", *good]), "sats.txt")
    assert [one.number for one in found] == [99005]
    assert broken[0].line == 1 + wrong
    assert words in str(broken[0].refusal)
    assert all("\n" not in str(row.refusal) for row in broken)


def test_files_that_hold_no_satellites(tmp_path: Path) -> None:
    kit = kit_with(tmp_path, ONE)
    file = tmp_path / "sats.txt"
    for data, words in (
        (b"", "empty, no two-line elements"),
        (b"one\ntwo\n", "(and 1 more)"),
        (b"\xff\xfe\x00", "not a text file in UTF-8"),
        (b"x" * 1_000_001, "larger than 1 MB"),
    ):
        file.write_bytes(data)
        with pytest.raises(AxletreeError) as refused:
            satellites_of_kit(kit, tmp_path, NIGHT)
        assert words in str(refused.value)
        assert "\n" not in str(refused.value)
    with pytest.raises(AxletreeError, match="in no folder"):
        satellites_of_kit(kit, None, NIGHT)


def test_the_nearest_elements_of_one_satellite_and_the_age_of_all(tmp_path: Path) -> None:
    ages = (40.0, 8.0, 1.0)
    sets = [satellite_lines(MadeSatellite(EPOCH_JD - age)) for age in ages]
    old = satellite_lines(MadeSatellite(EPOCH_JD - 31.0, number=99002))
    text = "\n".join(line for one in [*sets, old] for line in one)
    known = satellites_of_kit(kit_with(tmp_path, text), tmp_path, NIGHT)
    [one] = known.satellites
    assert one.epoch_jd == pytest.approx(EPOCH_JD - 1.0, abs=1e-7)
    [too_old] = known.too_old
    assert (too_old.number, round(too_old.age_days)) == (99002, 32)


def test_slow_ones_cross_no_sky() -> None:
    """One that stands still over the equator is no crossing."""
    still = read_set(satellite_lines(MadeSatellite(EPOCH_JD, 0.05, turns=1.0027)))
    asked = CrossingsAsked(NIGHT, NIGHT + timedelta(hours=3), np.zeros_like, {})
    assert crossings_in([still], asked, Observer(0.0, 0.0)) == ()


def test_a_skyline_shortens_a_crossing_and_no_sun_is_up_at_any_moment(tmp_path: Path) -> None:
    kit = kit_with(tmp_path, many(40))
    known = satellites_of_kit(kit, tmp_path, NIGHT).satellites
    observer = observer_of(kit.site)
    whole = CrossingsAsked(
        NIGHT - timedelta(hours=3), NIGHT + timedelta(hours=16), np.zeros_like, {}
    )
    found = crossings_in(known, whole, observer)
    assert len(found) > 20
    kinds = {moment.kind for one in found for moment in (one.begin, one.end)}
    assert {
        CrossingEvent.RISES,
        CrossingEvent.SETS,
        CrossingEvent.ENTERS_SHADOW,
    } <= kinds
    rule = SunRule.of(kit)
    times = [moment.time for one in found for moment in (one.begin, one.end)]
    assert not rule.sun_is_up(Instants.from_datetimes(times)).any()
    for one in found:
        assert one.begin.time < one.end.time < one.begin.time + timedelta(hours=1)
        assert one.begin.time <= one.highest.time <= one.end.time
        assert one.highest.altitude_deg > 9.9
    high = replace(whole, skyline=lambda azimuth: np.full_like(azimuth, 40.0))
    walled = crossings_in(known, high, observer)
    assert 0 < len(walled) < len(found)
    assert all(m.altitude_deg > 39.9 for one in walled for m in (one.begin, one.highest, one.end))


def test_the_evening_tells_times_and_makes_no_stops(tmp_path: Path) -> None:
    lights = "".join(
        f"\n[[habits.satellite]]\nnumber = {99001 + k}\nmagnitude = 2.0\n" for k in range(10)
    )
    text = many(60, (0.5, 10.0, 50.0)) + "1 rubbish\n"
    kit = kit_with(tmp_path, text, lights)
    request = EveningRequest(date(2026, 12, 5), NIGHT, kit_folder=tmp_path, effort="quick")
    answer = plan_evening(kit, observer_of(kit.site), request)
    tonight = answer.crossings
    assert tonight is not None
    assert 3 < len(tonight.crossings) <= MOST_TOLD
    assert len(tonight.too_old) == 20
    assert answer.session is not None
    for one in tonight.crossings:
        assert answer.session.first_stop <= one.begin.time <= answer.session.end
        assert (one.brightest_mag is not None) == (one.number < 99011)
        assert one.old == (one.age_days > 7.0)
    assert {stop.kind for stop in answer.stops}.isdisjoint({"satellite"})
    document = evening_document(answer)
    told = json.loads(document.model_dump_json())["satellites"]
    assert len(told["crossings"]) == len(tonight.crossings)
    words = evening_text(document)
    assert "Look up, with the bare eye:" in words
    assert "MADE UP" in words
    assert "sats.txt line 181" in " ".join(words.split())
    plain = kit.model_copy(update={"habits": kit.habits.model_copy(update={"satellite_files": ()})})
    without = plan_evening(plain, observer_of(kit.site), request)
    assert without.crossings is None
    assert "Look up" not in evening_text(evening_document(without))


def test_who_only_looks_gets_the_times_of_the_coarse_place(tmp_path: Path) -> None:
    """Seconds of a crossing would give the place away: they are those of the rounded one."""
    kit = kit_with(tmp_path, many(60))
    request = EveningRequest(date(2026, 12, 5), NIGHT, kit_folder=tmp_path, effort="quick")
    answer = plan_evening(kit, observer_of(kit.site), request)
    site = kit.site.model_copy(update={"latitude_deg": 38.6, "longitude_deg": -7.9})
    coarse = kit.model_copy(update={"site": site})
    moved = moved_to(answer, coarse, observer_of(site))
    fresh = plan_evening(coarse, observer_of(site), request)
    assert moved.crossings is not None
    assert answer.crossings is not None
    assert fresh.crossings is not None
    of_its_own = {one.number: one.highest.time for one in answer.crossings.crossings}
    there = {one.number: one.highest.time for one in fresh.crossings.crossings}
    seen = {one.number: one.highest.time for one in moved.crossings.crossings}
    both = seen.keys() & there.keys() & of_its_own.keys()
    assert len(both) > 3
    for number in both:
        assert abs((seen[number] - there[number]).total_seconds()) < 1.0
    assert any(abs((seen[n] - of_its_own[n]).total_seconds()) > 0.4 for n in both)


def test_one_line_of_a_set_is_no_set() -> None:
    assert isinstance(read_set(LINES), TwoLine)
