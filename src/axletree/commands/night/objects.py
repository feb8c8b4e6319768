"""What this telescope can show from this spot: filtered, ranked, each with its reason.

For the evening of --date (tonight), or all of its night, or one moment (--at). With
--best-nights OBJECT: when in the year that object is best here.
"""

from __future__ import annotations

import argparse
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_options,
    parse_date,
    parse_moment,
    read_kit,
)
from axletree.kit.errors import AxletreeError
from axletree.kit.parts.habits import Theme
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.evening.objects.own_objects import OwnObjects
    from axletree.kit.kit import Kit
    from axletree.sky.observer import Observer

EXAMPLE = "axletree objects --kind galaxies --date 2027-04-03 --limit 10"
MOST_ROWS = 20_000


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    kit_options(parser)
    parser.add_argument("--date", metavar="DATE", help="the evening's date, 2026-12-05 (tonight)")
    parser.add_argument("--all-night", action="store_true", help="all of the dark night")
    for name, metavar, words in (
        ("--kind", "KIND", "galaxies, clusters, nebulae, doubles, planets ...; may be repeated"),
        ("--theme", "THEME", "a theme of the kit, such as 'colours' or 'first looks'"),
    ):
        parser.add_argument(name, action="append", default=[], metavar=metavar, help=words)
    parser.add_argument("--limit", type=int, default=20, metavar="N", help="so many rows (20)")
    for name, words in (
        ("--all", "also what clears the skyline but cannot be seen"),
        ("--whole-list", "refuse the own list for one broken row (else that row is left out)"),
    ):
        parser.add_argument(name, action="store_true", help=words)
    parser.add_argument("--own", metavar="FILE.csv", help="a list of your own (the kit's)")
    parser.add_argument("--best-nights", metavar="OBJECT", help="when in the year it is best here")
    parser.add_argument("--until", metavar="DATE", help="last night for --best-nights (a year on)")


def answer(options: argparse.Namespace) -> Answer:
    """The list, or the year of one object."""
    if not 1 <= options.limit <= MOST_ROWS:
        raise AxletreeError(f"--limit must lie between 1 and {MOST_ROWS}")
    if options.at is not None and (options.date is not None or options.all_night):
        raise AxletreeError("give --at for one moment, or --date for an evening, not both")
    if options.until is not None and options.best_nights is None:
        raise AxletreeError("--until belongs to --best-nights")
    themes = tuple(_theme(word) for word in options.theme)
    kit = read_kit(options)
    observer = observer_of(kit.site)
    day = parse_date(options.date, kit.site)
    if options.best_nights is not None:
        return _year(options, kit, observer, day)
    return _list(options, kit, observer, day, themes)


def _theme(word: str) -> Theme:
    known: dict[str, Theme] = {theme: theme for theme in get_args(Theme)}
    found = known.get(" ".join(word.lower().split()))
    if found is None:
        raise AxletreeError(f"no theme '{word}'; there are: {', '.join(known)}")
    return found


def _list(
    options: argparse.Namespace, kit: Kit, observer: Observer, day: date, themes: tuple[Theme, ...]
) -> Answer:
    from axletree.commands.target.point import table_of
    from axletree.evening.objects.kinds import kinds_named
    from axletree.evening.objects.listing import list_objects, moments_of
    from axletree.evening.seeing.sky_brightness import sky_state
    from axletree.evening.sheet.plan import refuse_unknown_day
    from axletree.sky.time.instants import Instants
    from axletree.tell.objects.text import listing_data, listing_text
    from axletree.tell.shared.text import rotation_words

    kinds = kinds_named(options.kind)
    if options.at is None:
        refuse_unknown_day(day)
        instants = moments_of(kit, observer, day, all_night=options.all_night)
    else:
        moment = parse_moment(options.at, kit.site)
        refuse_unknown_day(moment.date())
        instants = Instants.from_datetime(moment)
    times = instants.to_datetimes(kit.site.zone)
    own = _own(options, kit, times[len(times) // 2])
    sky = sky_state(kit, observer, instants)
    table = table_of(kit, times[0], options)
    assert table.skyline is not None
    listing = list_objects(
        kit, observer, instants, sky, table.skyline,
        kinds=kinds, themes=themes, own=own.objects, limit=options.limit, everything=options.all,
        table=table,
    )  # fmt: skip
    notes = [row.words for row in own.broken] + [n for n in (rotation_words(instants.doubts),) if n]
    return Answer(
        listing_text(kit, listing, times, sky, notes),
        listing_data(kit, listing, times, sky, notes),
    )


def _year(options: argparse.Namespace, kit: Kit, observer: Observer, day: date) -> Answer:
    from axletree.evening.sheet.plan import refuse_unknown_day
    from axletree.evening.year.best_nights import best_nights
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.sky.catalogue.objects import find
    from axletree.tell.objects.text import year_data, year_text

    if options.at is not None or options.kind or options.theme or options.all:
        raise AxletreeError("--best-nights takes --kit, --date, --until, --limit and --json only")
    last = parse_date(options.until, kit.site) if options.until else day + timedelta(days=364)
    for end in (day, last):
        refuse_unknown_day(end)
    start = datetime.combine(day, datetime.min.time(), kit.site.zone)
    named = options.best_nights
    mine = {thing.name.casefold(): thing for thing in _own(options, kit, start).objects}
    thing = mine.get(named.casefold()) or find(named)
    year = best_nights(
        kit,
        observer,
        thing,
        day,
        last,
        site_horizon(kit.site, kit_folder(options), start).altitude_at,
    )
    return Answer(year_text(kit, year, options.limit), year_data(kit, year, options.limit))


def _own(options: argparse.Namespace, kit: Kit, when: datetime) -> OwnObjects:
    from axletree.evening.objects.own_objects import own_objects_of

    file = None if options.own is None else Path(options.own)
    return own_objects_of(kit, kit_folder(options), when, file=file, all_or_none=options.whole_list)
