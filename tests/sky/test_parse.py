"""Words for moments, dates and days of the week, and what is refused."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.time.parse import date_from, moment_from, tonight, weekdays_from

LISBON = ZoneInfo("Europe/Lisbon")


def test_a_moment_without_a_zone_is_the_sites() -> None:
    assert moment_from("2026-07-05T20:30", LISBON) == datetime(2026, 7, 5, 19, 30, tzinfo=UTC)
    assert moment_from(" 2026-07-05T20:30Z ", LISBON) == datetime(2026, 7, 5, 20, 30, tzinfo=UTC)


@pytest.mark.parametrize("words", ["", "now", "2026-13-01T00:00", "0001-01-01", "9999-12-31T23:59"])
def test_what_is_no_moment_is_refused(words: str) -> None:
    with pytest.raises(AxletreeError, match=f"^'{words}'"):
        moment_from(words, LISBON)


def test_a_date() -> None:
    assert date_from("2026-12-05 ") == date(2026, 12, 5)
    with pytest.raises(AxletreeError, match=r"^'5\.12\.2026' is not a date"):
        date_from("5.12.2026")


def test_the_night_goes_on_until_four_in_the_morning() -> None:
    before = datetime(2026, 12, 6, 3, 59, tzinfo=LISBON)
    assert tonight(before) == date(2026, 12, 5)
    assert tonight(before.replace(hour=4, minute=0)) == date(2026, 12, 6)


def test_days_of_the_week() -> None:
    assert weekdays_from("fri,sat") == weekdays_from("Fridays saturday") == {4, 5}
    for words in ("", "f", "t", "moonday"):
        with pytest.raises(AxletreeError, match="day"):
            weekdays_from(words)
