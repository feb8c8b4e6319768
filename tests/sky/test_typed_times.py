"""What a person types as a time or an evening."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from axletree.kit.errors import AxletreeError
from axletree.sky.time.typed import typed_evening, typed_moment

LISBON = ZoneInfo("Europe/Lisbon")
NOW = datetime(2026, 7, 1, 2, 30, tzinfo=UTC)  # 03:30 in Lisbon, an hour ahead in summer


def test_a_time_without_a_zone_is_the_sites() -> None:
    assert typed_moment("2026-07-01T22:00", LISBON, NOW) == datetime(2026, 7, 1, 21, 0, tzinfo=UTC)
    assert typed_moment("2026-07-01T22:00Z", LISBON, NOW) == datetime(2026, 7, 1, 22, tzinfo=UTC)
    assert typed_moment(None, LISBON, NOW) is NOW


def test_before_four_the_evening_is_still_yesterdays() -> None:
    assert typed_evening(None, LISBON, NOW) == date(2026, 6, 30)
    assert typed_evening(None, LISBON, NOW.replace(hour=3)) == date(2026, 7, 1)
    assert typed_evening(" 2026-12-05 ", LISBON, NOW) == date(2026, 12, 5)


@pytest.mark.parametrize("text", ["yesterday", "", "0001-01-01T00:00", "9999-12-31T23:00"])
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(AxletreeError, match="--at"):
        typed_moment(text, LISBON, NOW)


def test_what_is_no_date_is_refused() -> None:
    with pytest.raises(AxletreeError, match="write it like 2026-12-05"):
        typed_evening("tonight", LISBON, NOW)
