"""What was seen, and what drifted: the logbook.

  axletree log                         every evening
  axletree log begin                   begin tonight's evening with this kit
  axletree log add done M31            a stop that was shown (or: add skipped M31)
  axletree log add note "thin cloud"   a remark
  axletree log add sky --seeing 2.5    seeing and darkness as found
  axletree log add bolt --altitude 0.5 turns of the bolts, clockwise positive
  axletree log show 3                  one evening
  axletree log search "M31 cloud"      all that holds these words
  axletree log bolts                   the bolts' true turns per degree
  axletree log export FILE.json        everything (or a folder for CSV)
  axletree log import FILE.json        back, without loss and without doubles

What a command has confirmed is on the disk.
"""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import Answer, kit_folder, parse_date, parse_moment, read_kit
from axletree.kit.errors import AxletreeError

if TYPE_CHECKING:
    from axletree.logbook.store import Logbook

EXAMPLE = 'axletree log add done M31 --note "dust lanes!"'
ACTIONS = ("list", "begin", "add", "show", "search", "bolts", "export", "import")
KINDS = ("done", "skipped", "note", "sky", "bolt")
LARGEST_IMPORT_BYTES = 64_000_000
MOST_VISITORS = 100_000


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("action", nargs="?", default="list", choices=ACTIONS, metavar="ACTION",
                        help="list, begin, add, show, search, bolts, export or import")  # fmt: skip
    parser.add_argument("words", nargs="*", help="what the action needs, as shown above")
    parser.add_argument("--logbook", metavar="FILE", help="the logbook (your own, else this one)")
    parser.add_argument("--kit", metavar="FILE", help="the kit file (TOML)")
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
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def answer(options: argparse.Namespace) -> Answer:
    """Carry out the action on the logbook."""
    from axletree.logbook.store import Logbook, default_logbook

    _refuse(options)
    path = Path(options.logbook) if options.logbook else default_logbook()
    with Logbook(path) as book:
        made = _DO[options.action](options, book)
        if book.note:
            return Answer(f"{book.note}\n{made.text}", {**made.data, "note": book.note})
        return made


def _refuse(options: argparse.Namespace) -> None:
    """One line for words and figures that mean nothing here, before a logbook is opened."""
    most = {"list": 0, "begin": 0, "bolts": 0, "show": 1}.get(options.action)
    if most is not None and len(options.words) > most:
        raise AxletreeError(f"log {options.action}: '{options.words[most]}' is a word too many")
    for name, least, largest in (
        ("seeing", 0.01, 1000.0), ("darkness", 0.0, 40.0), ("faintest", -20.0, 20.0),
        ("altitude", -100.0, 100.0), ("azimuth", -100.0, 100.0),
    ):  # fmt: skip
        value = getattr(options, name)
        if value is not None and not least <= value <= largest:
            raise AxletreeError(f"--{name} {value:g} must lie between {least:g} and {largest:g}")
    if options.visitors is not None and not 0 <= options.visitors <= MOST_VISITORS:
        raise AxletreeError(f"--visitors must lie between 0 and {MOST_VISITORS}")


def _list(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.read import evenings

    found = evenings(book)
    if not found:
        return Answer(f"The logbook {book.path} is empty; 'axletree log begin' begins an evening.",
                      {"evenings": []})  # fmt: skip
    lines = [
        f"{e.id:>4}  {e.date}  {e.site[:40]}: {e.done} shown, {e.skipped} skipped, {e.notes} notes"
        for e in found
    ]
    return Answer("\n".join(lines), {"evenings": [vars(e) for e in found]})


def kit_named(options: argparse.Namespace) -> str | None:
    """The kit that was named or lies here; None: the demo kit stands in."""
    from axletree.commands.shared.common import HERE_KIT

    named: str | None = options.kit
    return named or (HERE_KIT if Path(HERE_KIT).is_file() else None)


def kit_text(options: argparse.Namespace) -> str:
    """The text of the kit that `read_kit` reads."""
    from axletree.kit.kit import DEMO_KITS, demo_text, read_text

    named = kit_named(options)
    if named and not (named in DEMO_KITS and not Path(named).exists()):
        return read_text(Path(named))
    return demo_text(named or DEMO_KITS[0])


def _begin(options: argparse.Namespace, book: Logbook) -> Answer:
    kit, text = read_kit(options), kit_text(options)
    at = parse_moment(options.at, kit.site).astimezone(kit.site.zone)
    day = parse_date(None, kit.site, at)
    number = book.begin_evening(day, kit, text, at)
    return Answer(f"Evening {number} begun: {day}, {kit.site.name}.", {"evening": number})


def _evening(options: argparse.Namespace, book: Logbook) -> int:
    """The evening that was asked for, or the latest: at the kit's site where a kit was named."""
    from axletree.logbook.read import evening_whole, latest_evening

    if options.evening is not None:
        return int(evening_whole(book, options.evening)["id"])
    site = read_kit(options).site if kit_named(options) else None
    found = latest_evening(book, site)
    if found is None:
        where = f" at {site.name}" if site is not None and latest_evening(book) else ""
        raise AxletreeError(f"no evening has been begun{where}; 'axletree log begin' begins one")
    return found


def _add(options: argparse.Namespace, book: Logbook) -> Answer:
    if not options.words or options.words[0] not in KINDS:
        raise AxletreeError(f"add what? one of: {', '.join(KINDS)}")
    kind, text = options.words[0], " ".join(options.words[1:]).strip()
    evening = _evening(options, book)
    site = read_kit(options).site
    at = parse_moment(options.at, site).astimezone(site.zone)
    if kind in ("done", "skipped"):
        if not text:
            raise AxletreeError(f"which object? for example: axletree log add {kind} M31")
        name, catalogue_id = _named(options, text, at)
        row = book.add_stop(evening, at, name, catalogue_id, done=kind == "done",
                            visitors=options.visitors, note=options.note)  # fmt: skip
        said = f"{name} {'shown' if kind == 'done' else 'skipped'}"
    elif kind == "note":
        if not text:
            raise AxletreeError('note what? for example: axletree log add note "thin cloud"')
        row, said = book.add_note(evening, at, text), "noted"
    elif kind == "sky":
        if not text and options.seeing is options.darkness is options.faintest is None:
            raise AxletreeError("what of the sky? give --seeing, --darkness, --faintest or words")
        row = book.add_conditions(
            evening, at, seeing_arcsec=options.seeing, naked_eye_limit_mag=options.faintest,
            sky_brightness_mag_arcsec2=options.darkness, words=text,
        )  # fmt: skip
        said = "sky noted"
    else:
        if not options.altitude and not options.azimuth:
            raise AxletreeError("which bolt? give --altitude TURNS or --azimuth TURNS")
        row = book.add_bolt_turn(evening, at, options.altitude, options.azimuth, options.note)
        said = "bolt turn noted"
    return Answer(f"Evening {evening}: {said}.", {"evening": evening, "row": row})


def _named(options: argparse.Namespace, text: str, at: datetime) -> tuple[str, str]:
    """Name and id of an object of the catalogues or of the kit's own list; others are refused."""
    from axletree.evening.objects.own_objects import own_objects_of
    from axletree.sky.catalogue.names import fold
    from axletree.sky.catalogue.objects import find

    try:
        thing = find(text)
    except AxletreeError as unknown:
        own = own_objects_of(read_kit(options), kit_folder(options), at).objects
        mine = [t for t in own if fold(text) in {fold(n) for n in (t.name, *t.common_names)}]
        if not mine:
            raise AxletreeError(str(unknown)) from None
        thing = mine[0]
    return thing.name, thing.catalogue_id


def _show(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.read import evening_whole, seconds_of

    if options.words and not options.words[0].isdecimal():
        raise AxletreeError("show which evening? give its number from 'axletree log'")
    number = int(options.words[0]) if options.words else _evening(options, book)
    whole = evening_whole(book, number)
    lines = [f"Evening {number}: {whole['date']}, {whole['site']} ({whole['kit_name']})"]
    entries: list[tuple[str, str]] = []
    for stop in whole["stop"]:
        seen = "" if stop["visitors"] is None else f", {stop['visitors']} looked"
        note = f": {stop['note']}" if stop["note"] else ""
        entries.append((stop["at"], f"{stop['object']} {stop['state']}{seen}{note}"))
    entries += [(n["at"], n["text"]) for n in whole["note"]]
    for sky in whole["conditions"]:
        facts = [
            f"seeing {sky['seeing_arcsec']:g}″" if sky["seeing_arcsec"] else "",
            f"{sky['sky_brightness_mag_arcsec2']:g} mag/arcsec²"
            if sky["sky_brightness_mag_arcsec2"] else "",
            f"faintest star {sky['naked_eye_limit_mag']:g}" if sky["naked_eye_limit_mag"] else "",
            sky["words"],
        ]  # fmt: skip
        entries.append((sky["at"], "sky: " + ", ".join(f for f in facts if f)))
    for axis in whole["axis_measure"]:
        entries.append((
            axis["at"],
            f"axis by {axis['method']}: high {axis['high_arcmin']:+.1f}′ ± "
            f"{axis['high_variance_arcmin2'] ** 0.5:.1f}′, east {axis['east_arcmin']:+.1f}′ ± "
            f"{axis['east_variance_arcmin2'] ** 0.5:.1f}′",
        ))  # fmt: skip
    for bolt in whole["bolt_turn"]:
        entries.append((
            bolt["at"],
            f"bolts turned: altitude {bolt['altitude_turns']:+g}, azimuth "
            f"{bolt['azimuth_turns']:+g}",
        ))  # fmt: skip
    # By the moment, not by its text: in a night in which clocks change these differ.
    entries.sort(key=lambda entry: seconds_of(entry[0]))
    lines += [f"  {at[11:16]}  {text}" for at, text in entries]
    return Answer("\n".join(lines), whole)


def _search(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.read import search

    found = search(book, " ".join(options.words))
    lines = [f"{r['date']}  evening {r['evening']}  {r['text']}" for r in found]
    return Answer("\n".join(lines) or "Nothing in the logbook holds these words.",
                  {"found": found})  # fmt: skip


def _bolts(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.learned import turns_per_degree

    data: dict[str, Any] = {}
    lines = []
    for bolt in ("altitude", "azimuth"):
        learned = turns_per_degree(book, "altitude" if bolt == "altitude" else "azimuth")
        if learned is None:
            data[bolt] = None
            lines.append(f"{bolt}: not known yet; measure the axis, turn the bolt, measure again.")
            continue
        data[bolt] = {"turns_per_degree": learned.turns_per_degree, "sigma": learned.sigma,
                      "count": learned.count}  # fmt: skip
        lines.append(
            f"{bolt}: {abs(learned.turns_per_degree):.2f} ± {learned.sigma:.2f} turns per degree, "
            f"from {learned.count} turn{'s' if learned.count != 1 else ''}."
        )
    return Answer("\n".join(lines), data)


def _export(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.exchange import export_csv, export_json
    from axletree.tell.shared.files import write_whole

    if len(options.words) != 1:
        raise AxletreeError("export where? a file ending in .json, or a folder for CSV")
    target = Path(options.words[0])
    if target.suffix == ".json":
        write_whole(target, export_json(book).encode())
        files = [str(target)]
    else:
        files = []
        for name, text in export_csv(book).items():
            write_whole(target / name, text.encode())
            files.append(str(target / name))
    return Answer("Wrote " + ", ".join(files) + ".", {"files": files})


def _import(options: argparse.Namespace, book: Logbook) -> Answer:
    from axletree.logbook.exchange import import_json

    if len(options.words) != 1:
        raise AxletreeError("import which file? one that 'axletree log export' wrote")
    file = Path(options.words[0])
    try:
        if file.stat().st_size > LARGEST_IMPORT_BYTES:
            raise AxletreeError(f"{file}: too large for a logbook (over 64 MB)")
        text = file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise AxletreeError(f"{file}: not a text file in UTF-8") from None
    except OSError as error:
        raise AxletreeError(f"{file}: cannot be read ({error.strerror})") from None
    added = import_json(book, text)
    return Answer(f"{added} new rows from {file}.", {"added": added})


_DO = {
    "list": _list, "begin": _begin, "add": _add, "show": _show, "search": _search,
    "bolts": _bolts, "export": _export, "import": _import,
}  # fmt: skip
