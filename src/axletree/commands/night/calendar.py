"""Which night? Every night of a range scored for this spot, this telescope and this audience.

Three figures a night, of 100 for the best of your own year: for the deep sky, for Moon and
planets, and for your audience. Every stop has its slot in time and the sky of that slot: twilight,
the Moon's place and phase, what stands clear. A year by default; with --on only some days of the
week are named; with --ics the best nights, and the sky's great ones such as eclipses, go into a
calendar.
"""

from __future__ import annotations

import argparse
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_date, read_kit
from axletree.kit.errors import AxletreeError
from axletree.sky.time.parse import weekdays_from

if TYPE_CHECKING:
    from axletree.kit.kit import Kit

EXAMPLE = "axletree calendar --from 2027-01-01 --to 2027-12-31 --on fri,sat --ics nights.ics"


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
    parser.add_argument(
        "--every",
        action="store_true",
        help="list every night of a long range, and all that is special",
    )
    parser.add_argument("--ics", metavar="FILE.ics", help="write the named nights as iCalendar")


def answer(options: argparse.Namespace) -> Answer:
    """Score, name the best nights, and write what was asked for."""
    from axletree.stages.night.calendar import (
        MOST_APART_DAYS,
        MOST_BEST,
        BestNights,
        CalendarRequest,
        calendar,
    )
    from axletree.tell.calendar.data import calendar_data
    from axletree.tell.calendar.text import calendar_text, written_words

    if not 1 <= options.best <= MOST_BEST:
        raise AxletreeError(f"--best must lie between 1 and {MOST_BEST}")
    if options.apart is not None and not 0 <= options.apart <= MOST_APART_DAYS:
        raise AxletreeError(f"--apart must lie between 0 and {MOST_APART_DAYS} days")
    weekdays = _weekdays(options.on)
    kit = read_kit(options)
    request = CalendarRequest(
        first=_date(options.first, "--from", kit),
        last=_date(options.last, "--to", kit) if options.last else None,
        best=BestNights(options.best, options.apart, weekdays),
        kit_folder=kit_folder(options),
    )
    found = calendar(kit, request)
    text = calendar_text(found, every=options.every)
    if options.ics:
        from axletree.evening.special.of_kit import is_great
        from axletree.tell.calendar.nights_file import nights_ics
        from axletree.tell.shared.files import write_whole

        now = datetime.now(kit.site.zone)
        great = [night for night in found.special if is_great(night)]
        file = nights_ics(found.best, kit, now, great, sun_filters=found.sun_filters)
        write_whole(Path(options.ics), file)
        text += f"\n\n{written_words(options.ics, len(found.best), len(great))}"

    def drawing() -> str:
        from axletree.tell.calendar.drawing import calendar_view_svg

        return calendar_view_svg(found)

    return Answer(text, calendar_data(found), drawing)


def _weekdays(text: str | None) -> frozenset[int] | None:
    """Numbers of the named days, Monday 0; None without a name."""
    if text is None:
        return None
    try:
        return weekdays_from(text)
    except AxletreeError as refusal:
        raise AxletreeError(f"--on: {refusal}") from None


def _date(text: str | None, option: str, kit: Kit) -> date:
    try:
        return parse_date(text, kit.site)
    except AxletreeError:
        raise AxletreeError(f"{option} '{text}' is not a date; write it like 2027-01-31") from None
