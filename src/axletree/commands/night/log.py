"""What was seen, and what drifted: the logbook.

  axletree log                         every evening
  axletree log begin                   begin tonight's evening with this kit
  axletree log add done M31            a stop that was shown (or: add skipped M31)
  axletree log add note "thin cloud"   a remark
  axletree log add sky --seeing 2.5    seeing and darkness as found
  axletree log add bolt --altitude 0.5 turns of the bolts, clockwise positive
  axletree log add found M57 --by steps,sweep --minutes 4   (or: add missed M57 --by hop)
  axletree log add set-up --minutes 50 (or since 'log begin'); add take-down --minutes 20
  axletree log add touch Capella --side west             tube and mount met
  axletree log add gap M13 --left 15mm --side east       or a finger's width was left
  axletree log gaps                    what these teach of the rig's dimensions
  axletree log show 3                  one evening
  axletree log search "M31 cloud"      all that holds these words
  axletree log bolts                   the bolts' true turns per degree
  axletree log bolt | tripod | tube    turned, moved, clamped again: what was measured is void
  axletree log circle hour             this circle was set (or: circle declination)
  axletree log mount stands            it stands where it stood the evening before
  axletree log undo                    the latest of these was a mistake (undo found, undo gap)
  axletree log export FILE.json        everything (or a folder for CSV)
  axletree log import FILE.json        back, without loss and without doubles

What a command has confirmed is on the disk.
"""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.night import log_found, log_gap, log_moved
from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_named,
    parse_moment,
    read_kit,
    read_rig_here,
    refuse_outside,
    rig_options,
)
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.logbook.entries import EntryKind
    from axletree.logbook.store import Logbook

EXAMPLE = 'axletree log add done M31 --note "dust lanes!"'
BOOK = ("list", "begin", "add", "show", "search", "bolts", "export", "import")
ACTIONS = (*BOOK, log_gap.LIST, *log_moved.ACTIONS)
MOST_VISITORS = 100_000


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("action", nargs="?", default="list", choices=ACTIONS, metavar="ACTION",
                        help=f"{', '.join(ACTIONS[:-1])} or {ACTIONS[-1]}")  # fmt: skip
    parser.add_argument("words", nargs="*", help="what the action needs, as shown above")
    parser.add_argument("--logbook", metavar="FILE", help="the logbook (your own, else this one)")
    parser.add_argument("--notes", metavar="FILE", help="where what was moved is noted")
    rig_options(parser)
    parser.add_argument("--at", metavar="ISO", help="when it happened (now)")
    parser.add_argument("--evening", type=int, metavar="N", help="which evening (the latest)")
    parser.add_argument("--note", default="", help="a remark with a stop or a bolt turn")
    parser.add_argument("--visitors", type=int, metavar="N", help="how many looked")
    parser.add_argument("--seeing", type=float, metavar="ARCSEC", help="seeing as found")
    parser.add_argument("--darkness", type=float, metavar="MAG", help="mag/arcsec2 as measured")
    parser.add_argument("--faintest", type=float, metavar="MAG", help="faintest star by eye")
    parser.add_argument("--altitude", type=float, default=0.0, metavar="TURNS",
                        help="turns of the altitude bolt, clockwise positive")  # fmt: skip
    parser.add_argument("--azimuth", type=float, default=0.0, metavar="TURNS",
                        help="turns of the azimuth bolts, clockwise positive")  # fmt: skip
    parser.add_argument("--by", metavar="WAYS", help="steps, hop, sweep, eye: as it was tried")
    parser.add_argument("--minutes", type=float, metavar="N", help="how long that took in all")
    log_gap.gap_options(parser)
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """Carry out the action on the logbook."""
    from axletree.logbook.store import Logbook, default_logbook
    from axletree.tell.logbook.text import kept_aside_words

    _refuse(options)
    if log_gap.concerns(options):
        return log_gap.gaps(options)
    undo_found = (options.action, options.words) == ("undo", ["found"])
    if options.action in log_moved.ACTIONS and not undo_found:
        return log_moved.moved(options)
    path = Path(options.logbook) if options.logbook else default_logbook()
    with Logbook(path) as book:
        made = (_undo_found if undo_found else _DO[options.action])(options, book)
        if book.kept_aside is not None:
            note = kept_aside_words(book.kept_aside)
            return Answer(f"{note}\n{made.text}", {**made.data, "note": note})
        return made


def _refuse(options: argparse.Namespace) -> None:
    """One line for words and figures that mean nothing here, before a logbook is opened."""
    most = {"list": 0, "begin": 0, "bolts": 0, "show": 1}.get(options.action)
    if most is not None and len(options.words) > most:
        raise AxletreeError(f"log {options.action}: '{options.words[most]}' is a word too many")
    refuse_outside(options, {
        "seeing": (0.01, 1000.0), "darkness": (0.0, 40.0), "faintest": (-20.0, 20.0),
        "minutes": (0.1, 600.0), "altitude": (-100.0, 100.0), "azimuth": (-100.0, 100.0),
    })  # fmt: skip
    if options.visitors is not None and not 0 <= options.visitors <= MOST_VISITORS:
        raise AxletreeError(f"--visitors must lie between 0 and {MOST_VISITORS}")


def _list(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.read import evenings
    from axletree.tell.log.data import evenings_data
    from axletree.tell.log.text import evenings_text

    found = evenings(book)
    return Answer(evenings_text(found, book.path), evenings_data(found))


def _begin(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.entries import begin_evening
    from axletree.tell.log.text import begun_text

    rig = read_rig_here(options)
    begun = begin_evening(book, rig.kit, rig.text, parse_moment(options.at, rig.kit.site))
    return Answer(begun_text(begun), {"evening": begun.number})


def _evening(options: argparse.Namespace, book: Logbook) -> int:
    """The evening that was asked for, or the latest: at the kit's site where a kit was named."""
    from axletree.logbook.read import evening_whole, latest_evening

    if options.evening is not None:
        return int(evening_whole(book, options.evening)["id"])
    site = read_kit(options).site if kit_named(options) or options.site else None
    found = latest_evening(book, site)
    if found is None:
        where = f" at {site.name}" if site is not None and latest_evening(book) else ""
        raise AxletreeError(f"no evening has been begun{where}; 'axletree log begin' begins one")
    return found


def _undo_found(options: argparse.Namespace, book: Logbook) -> Answer:
    return log_found.undo(book, _evening(options, book))


def _add(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.entries import EntryKind, EntryRequest, add_entry
    from axletree.tell.log.data import added_data
    from axletree.tell.log.text import added_text

    kinds = {kind.value: kind for kind in EntryKind}
    if not options.words or options.words[0] not in kinds:
        raise AxletreeError(f"add what? one of: {', '.join(kinds)}, touch, gap")
    kind, text = kinds[options.words[0]], " ".join(options.words[1:]).strip()
    evening = _evening(options, book)
    site = read_kit(options).site
    at = parse_moment(options.at, site).astimezone(site.zone)
    looked_for = kind in (EntryKind.FOUND, EntryKind.MISSED)
    stop = looked_for or kind in (EntryKind.DONE, EntryKind.SKIPPED)
    ways = log_found.ways_of(options.by, looked_for=looked_for)
    _refuse_nothing(options, kind.value, text)
    name, catalogue_id = _named(options, text, at) if stop else ("", "")
    chance = log_found.reckoned(options, name, at, ways[0]) if ways else None
    request = EntryRequest(
        kind=kind,
        evening=evening,
        at=at,
        name=name,
        catalogue_id=catalogue_id,
        visitors=options.visitors,
        words="" if stop else text,
        note=options.note,
        seeing_arcsec=options.seeing,
        sky_brightness_mag_arcsec2=options.darkness,
        naked_eye_limit_mag=options.faintest,
        altitude_turns=options.altitude,
        azimuth_turns=options.azimuth,
        ways=ways,
        minutes=_minutes(options, book, kind, evening, at),
        chance=chance,
    )
    added = add_entry(book, request)
    if kind is EntryKind.BOLT:
        log_moved.bolts_turned(options, request)
    return Answer(added_text(added), added_data(added))


def _minutes(
    options: argparse.Namespace, book: Logbook, kind: EntryKind, evening: int, at: datetime
) -> float | None:
    """How long it took: as given; of setting up else since the evening was begun."""
    from axletree.logbook.entries import EntryKind
    from axletree.logbook.read import minutes_since_begin

    given: float | None = options.minutes
    if kind in (EntryKind.FOUND, EntryKind.MISSED, EntryKind.TAKE_DOWN) or given is not None:
        return given
    return minutes_since_begin(book, evening, at) if kind is EntryKind.SET_UP else None


def _refuse_nothing(options: argparse.Namespace, kind: str, text: str) -> None:
    """Refuse an entry that says nothing, in the words of the command line."""
    if kind in ("done", "skipped", "found", "missed") and not text:
        raise AxletreeError(f"which object? for example: axletree log add {kind} M31")
    if kind == "note" and not text:
        raise AxletreeError('note what? for example: axletree log add note "thin cloud"')
    if (
        kind == "sky"
        and not text
        and options.seeing is options.darkness is options.faintest is None
    ):
        raise AxletreeError("what of the sky? give --seeing, --darkness, --faintest or words")
    if kind == "take-down" and options.minutes is None:
        raise AxletreeError("how long? for example: axletree log add take-down --minutes 20")
    if kind == "bolt" and not options.altitude and not options.azimuth:
        raise AxletreeError("which bolt? give --altitude TURNS or --azimuth TURNS")


def _named(options: argparse.Namespace, text: str, at: datetime) -> tuple[str, str]:
    """Name and id of an object of the catalogues or of the kit's own list; others are refused."""
    from axletree.evening.brought.named import object_named

    thing = object_named(text, read_kit(options), kit_folder(options), at)
    return thing.name, thing.catalogue_id


def _show(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.entries import evening_record
    from axletree.tell.log.text import record_text

    if options.words and not (options.words[0].isdecimal() and len(options.words[0]) < 100):
        raise AxletreeError("show which evening? give its number from 'axletree log'")
    number = int(options.words[0]) if options.words else _evening(options, book)
    record = evening_record(book, number)
    return Answer(record_text(record), record.rows)


def _search(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.read import search
    from axletree.tell.log.data import found_data
    from axletree.tell.log.text import search_text

    found = search(book, " ".join(options.words))
    return Answer(search_text(found), {"found": found_data(found)})


def _bolts(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.learned import learned_of_bolts
    from axletree.tell.log.data import bolts_data
    from axletree.tell.log.text import bolts_text

    found = learned_of_bolts(book)
    return Answer(bolts_text(found), bolts_data(found))


def _export(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.exchange import export_csv, export_json
    from axletree.tell.log.text import exported_text
    from axletree.tell.shared.files import write_set

    if len(options.words) != 1:
        raise AxletreeError("export where? a file ending in .json, or a folder for CSV")
    target = Path(options.words[0])
    made = {"": export_json(book)} if target.suffix == ".json" else export_csv(book)
    write_set({target / name: text.encode() for name, text in made.items()})
    files = [str(target / name) for name in made]
    return Answer(exported_text(files), {"files": files})


def _import(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.kit.reading.files import text_of_file
    from axletree.logbook.exchange import LARGEST_IMPORT_BYTES, import_json
    from axletree.tell.log.text import imported_text

    if len(options.words) != 1:
        raise AxletreeError("import which file? one that 'axletree log export' wrote")
    file = Path(options.words[0])
    text = text_of_file(file, LARGEST_IMPORT_BYTES, "a logbook's export")
    try:
        added = import_json(book, text)
    except AxletreeError as refusal:
        raise AxletreeError(f"{file}: {refusal}") from None
    return Answer(imported_text(added, file), {"added": added})


_DO = {
    "list": _list, "begin": _begin, "add": _add, "show": _show, "search": _search,
    "bolts": _bolts, "export": _export, "import": _import,
}  # fmt: skip
