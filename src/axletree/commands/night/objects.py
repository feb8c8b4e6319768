"""What this telescope can show from this spot: filtered, ranked, each with its reason.

For the evening of --date (tonight), or all of its night, or one moment (--at). With
--best-nights OBJECT: when in the year that object is best here.
"""

from __future__ import annotations

import argparse
from datetime import date
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

if TYPE_CHECKING:
    from axletree.kit.kit import Kit

EXAMPLE = "axletree objects --kind galaxies --date 2027-04-03 --limit 10"


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
    from axletree.stages.night.objects import MOST_ROWS

    if not 1 <= options.limit <= MOST_ROWS:
        raise AxletreeError(f"--limit must lie between 1 and {MOST_ROWS}")
    if options.at is not None and (options.date is not None or options.all_night):
        raise AxletreeError("give --at for one moment, or --date for an evening, not both")
    if options.until is not None and options.best_nights is None:
        raise AxletreeError("--until belongs to --best-nights")
    kit = read_kit(options)
    day = parse_date(options.date, kit.site)
    if options.best_nights is not None:
        return _year(options, kit, day)
    return _list(options, kit, day)


def _theme(word: str) -> Theme:
    known: dict[str, Theme] = {theme: theme for theme in get_args(Theme)}
    found = known.get(" ".join(word.lower().split()))
    if found is None:
        raise AxletreeError(f"no theme '{word}'; there are: {', '.join(known)}")
    return found


def _list(options: argparse.Namespace, kit: Kit, day: date) -> Answer:
    from axletree.evening.objects.kinds import kinds_named
    from axletree.stages.night.objects import ObjectsRequest, objects
    from axletree.tell.objects.data import objects_data
    from axletree.tell.objects.text import objects_text

    at = None if options.at is None else parse_moment(options.at, kit.site)
    request = ObjectsRequest(
        evening=day if at is None else None,
        all_night=options.all_night,
        at=at,
        kinds=kinds_named(options.kind),
        themes=tuple(_theme(word) for word in options.theme),
        limit=options.limit,
        everything=options.all,
        own_file=_own_file(options),
        whole_list=options.whole_list,
        kit_folder=kit_folder(options),
    )
    found = objects(kit, request)
    return Answer(objects_text(found), objects_data(found))


def _year(options: argparse.Namespace, kit: Kit, day: date) -> Answer:
    from axletree.stages.night.best_nights import BestNightsRequest, best_nights
    from axletree.tell.objects.data import best_nights_data
    from axletree.tell.objects.text import best_nights_text

    if options.at is not None or options.kind or options.theme or options.all:
        raise AxletreeError("--best-nights takes --kit, --date, --until, --limit and --json only")
    request = BestNightsRequest(
        target=options.best_nights,
        first=day,
        last=parse_date(options.until, kit.site) if options.until else None,
        own_file=_own_file(options),
        whole_list=options.whole_list,
        kit_folder=kit_folder(options),
    )
    found = best_nights(kit, request)
    return Answer(best_nights_text(found, options.limit), best_nights_data(found, options.limit))


def _own_file(options: argparse.Namespace) -> Path | None:
    return None if options.own is None else Path(options.own)
