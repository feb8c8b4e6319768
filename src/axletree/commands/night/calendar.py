"""Which night? Every night of a range scored for this spot, this telescope and this audience.

The score counts what the night's best stops would be worth: hours of darkness before bedtime,
the Moon's light, what stands high, the planets. A year by default; with --on only some days of
the week are named; with --ics the best nights go into a calendar.
"""

from __future__ import annotations

import argparse
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_date, read_kit
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of
from axletree.sky.time.parse import DAY_NAMES, weekdays_from

if TYPE_CHECKING:
    from axletree.evening.objects.own_objects import OwnObjects
    from axletree.kit.kit import Kit

EXAMPLE = "axletree calendar --from 2027-01-01 --to 2027-12-31 --on fri,sat --ics nights.ics"
MOST_PICKS = 400


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.evening.year.nights_scored import APART_DAYS

    kit_options(parser, draw=True, at=False)
    parser.add_argument("--from", dest="first", metavar="DATE", help="the first evening (tonight)")
    parser.add_argument("--to", dest="last", metavar="DATE", help="the last evening (a year on)")
    parser.add_argument("--best", type=int, default=12, metavar="N", help="name so many (12)")
    parser.add_argument(
        "--apart", type=int, metavar="DAYS",
        help=f"days between the named nights ({APART_DAYS}; 0 for up to two months)",
    )  # fmt: skip
    parser.add_argument("--on", metavar="DAYS", help="only these days of the week: fri,sat")
    parser.add_argument("--every", action="store_true", help="list every night of a long range")
    parser.add_argument("--ics", metavar="FILE.ics", help="write the named nights as iCalendar")


def answer(options: argparse.Namespace) -> Answer:
    """Score, name the best nights, and write what was asked for."""
    from axletree.evening.year.nights_scored import APART_DAYS, best_of, refuse_range, score_nights
    from axletree.tell.calendar.text import calendar_data, calendar_text

    if not 1 <= options.best <= MOST_PICKS:
        raise AxletreeError(f"--best must lie between 1 and {MOST_PICKS}")
    if options.apart is not None and not 0 <= options.apart <= 400:
        raise AxletreeError("--apart must lie between 0 and 400 days")
    weekdays = _weekdays(options.on)
    kit = read_kit(options)
    first = _date(options.first, "--from", kit)
    last = _date(options.last, "--to", kit) if options.last else _year_on(first)
    refuse_range(first, last)
    own = _own(options, kit, first)
    calendar = score_nights(
        kit, observer_of(kit.site), first, last, folder=kit_folder(options), own=own.objects
    )
    calendar = replace(calendar, broken_rows=own.broken)
    apart = options.apart
    if apart is None:
        apart = APART_DAYS if len(calendar.nights) > 62 else 0
    picks = best_of(calendar.nights, options.best, apart_days=apart, weekdays=weekdays)
    named = " and ".join(DAY_NAMES[d] + "s" for d in sorted(weekdays)) if options.on else ""
    text = calendar_text(
        calendar, picks, kit, every=options.every, apart_days=apart, weekdays=named
    )
    if options.ics:
        from axletree.tell.calendar.nights_file import nights_ics
        from axletree.tell.shared.files import write_whole

        now = datetime.now(kit.site.zone)
        write_whole(Path(options.ics), nights_ics(picks, kit, now))
        text += f"\n\nWritten: {options.ics} ({len(picks)} nights)"

    def drawing() -> str:
        from axletree.tell.calendar.drawing import calendar_view_svg

        return calendar_view_svg(calendar.nights, picks, calendar.phases, kit.site.name)

    return Answer(text, calendar_data(calendar, picks, kit), drawing)


def _weekdays(text: str | None) -> frozenset[int]:
    """Numbers of the named days, Monday 0; all of them without a name."""
    if text is None:
        return frozenset(range(7))
    try:
        return weekdays_from(text)
    except AxletreeError as refusal:
        raise AxletreeError(f"--on: {refusal}") from None


def _date(text: str | None, option: str, kit: Kit) -> date:
    try:
        return parse_date(text, kit.site)
    except AxletreeError:
        raise AxletreeError(f"{option} '{text}' is not a date; write it like 2027-01-31") from None


def _year_on(first: date) -> date:
    """The night before the same date of the next year, or the last one that is known."""
    from axletree.sky.positions.ephemeris import LAST_YEAR

    return min(first + timedelta(days=364), max(first, date(LAST_YEAR, 12, 31)))


def _own(options: argparse.Namespace, kit: Kit, first: date) -> OwnObjects:
    from axletree.evening.objects.own_objects import own_objects_of

    noon = datetime(first.year, first.month, first.day, 12, tzinfo=kit.site.zone)
    return own_objects_of(kit, kit_folder(options), noon)
