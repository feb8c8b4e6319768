"""How far is the polar axis off, really, and which bolt puts it right?

  axletree check drift FILE.csv      drift of stars in declination
  axletree check readings FILE.csv   circle readings of centred stars
  axletree check frames A.fits B.fits ...
                                     frames, the hour axis turned between them
  axletree check turned              a bolt was turned: earlier ones don't count
  axletree check                     all measurements since then, together

A file named - is read from standard input. Each measurement is noted in
axletree-axis.jsonl in this folder (and in the logbook, if one was begun for
this evening). Drift needs the star in the middle by the hour knob or drive
alone; frames need a celestial WCS (TAN, TAN-SIP, TPV ...) and a time.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_moment, read_kit
from axletree.commands.shared.own_logbook import learned_kit, logbook_option
from axletree.kit.errors import AxletreeError
from axletree.logbook.lines import NOTES_FILE
from axletree.sky.observer import observer_of

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.pole.solution.candidates import Candidates
    from axletree.pole.solution.estimate import AxisEstimate
    from axletree.pole.solution.mount_frame import Pole
    from axletree.pole.solution.record import Tonight
    from axletree.sky.observer import Observer
    from axletree.tell.check.findings import Finding

EXAMPLE = "axletree check drift stars.csv --draw axis.svg"
WAYS = ("drift", "readings", "frames", "turned", "all")
LARGEST_FILE_BYTES = 2_000_000


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.pole.rows.columns import DRIFT_COLUMNS, READING_COLUMNS, column_help

    parser.add_argument(
        "way", nargs="?", default="all", choices=WAYS, metavar="WAY",
        help="drift, readings, frames or turned; all together if left out",
    )  # fmt: skip
    parser.add_argument("files", nargs="*", metavar="FILE", help="a CSV file, or FITS frames")
    kit_options(parser, draw=True)
    parser.add_argument(
        "--true-pole", action="store_true", help="count from the true pole, not the refracted one"
    )
    parser.add_argument(
        "--good", type=float, metavar="ARCMIN", help="what is good enough (from the kit)"
    )
    parser.add_argument("--notes", metavar="FILE", help=f"note it in this file ({NOTES_FILE})")
    parser.add_argument("--no-notes", action="store_true", help="neither note nor read notes")
    for name, words in (("to-pole", "towards the elevated pole"), ("east", "to the east")):
        parser.add_argument(
            f"--base-leans-{name}", type=float, default=0.0, metavar="DEG",
            help=f"leftover tilt of the base {words} (0)",
        )  # fmt: skip
    parser.add_argument(
        "--centring", type=float, default=2.0, metavar="ARCMIN",
        help="readings: error of centring a star (2)",
    )  # fmt: skip
    parser.add_argument(
        "--frame-error", type=float, metavar="ARCSEC",
        help="frames: error of one solved frame (a fifth of a pixel)",
    )  # fmt: skip
    for bolt in ("altitude", "azimuth"):
        parser.add_argument(
            f"--{bolt}-turns", type=float, default=0.0, metavar="TURNS",
            help=f"turned: how far the {bolt} bolt was turned, clockwise positive",
        )  # fmt: skip
    logbook_option(parser)
    parser.description = "\n\n".join(
        [
            (parser.description or "").rstrip(),
            column_help("Columns of a drift file (its first line names them):", DRIFT_COLUMNS),
            column_help("Columns of a readings file:", READING_COLUMNS),
        ]
    )


def answer(options: argparse.Namespace) -> Answer:
    """Measure, combine, and say which bolt to turn.

    A caller that holds the rows already (the app) gives them as `options.held`: the text, what
    to call it, and the key by which a later reading of the same sheet replaces an earlier one.
    """
    _refuse(options)
    kit, learned = learned_kit(options, read_kit(options))
    observer = observer_of(kit.site)
    now = parse_moment(options.at, kit.site)
    if options.way == "turned":
        return _turned(options, kit, observer, now)
    pole: Pole = "true" if options.true_pole else "refracted"
    finding = _measure(options, kit, observer, now, pole)
    if finding is not None and options.at is None:
        now = finding.at
    records = _records(options)
    noted = ""
    if finding is not None and finding.estimate.rank and not options.no_notes:
        from axletree.logbook.axis_notes import note_measurement
        from axletree.pole.solution.record import measure_record, row_marks, with_doubts

        key = _key(options, finding.method, finding.text)
        record = measure_record(
            finding.method, finding.at, finding.source, key, finding.estimate, observer, pole
        )
        record = with_doubts(record, finding.doubts)
        record["rows"] = list(row_marks(finding.text))
        noted = note_measurement(_notes(options), record, finding.estimate, kit.site)
        records = [*records, record]
    known = _known(records, now, kit, observer, pole)
    return _answer(options, kit, observer, now, pole, finding, known, noted, learned)


def _answer(
    options: argparse.Namespace, kit: Kit, observer: Observer, now: datetime, pole: Pole,
    finding: Finding | None, known: Tonight, noted: str, learned: tuple[str, ...],
) -> Answer:  # fmt: skip
    from axletree.pole.correct.advice import advise
    from axletree.pole.solution.combine import combine
    from axletree.tell.check.data import Report, check_data, check_drawing, standing_doubts
    from axletree.tell.check.text import check_text

    estimates = [m.estimate for m in known.since_turn]
    if not estimates and finding is not None:
        estimates = [finding.estimate]
    if not estimates:
        raise AxletreeError(
            "nothing was measured since the last turn of a bolt tonight; begin with "
            "'axletree check drift', 'check readings' or 'check frames'"
        )
    together = combine(estimates)
    standing = standing_doubts(finding, known, together)
    advice = advise(
        together.estimate, kit, observer, _near(options, kit, observer, now), pole=pole,
        good_arcmin=options.good, base_high_deg=options.base_leans_to_pole,
        base_east_deg=options.base_leans_east, doubts=[doubt for _, doubt in standing],
    )  # fmt: skip
    report = Report(
        kit=kit, observer=observer, at=now, pole=pole, finding=finding, known=known,
        together=together, advice=advice, good_arcmin=options.good, noted=noted, learned=learned,
        standing=standing,
    )  # fmt: skip
    return Answer(check_text(report), check_data(report), lambda: check_drawing(report))


def _refuse(options: argparse.Namespace) -> None:
    if options.way in ("all", "turned") and options.files:
        raise AxletreeError("say what the files hold: check drift, check readings or check frames")
    if options.way in ("drift", "readings") and len(options.files) != 1:
        raise AxletreeError(f"check {options.way} takes one CSV file, or - for standard input")
    if options.way == "turned" and options.no_notes:
        raise AxletreeError("check turned only notes that bolts were turned; leave out --no-notes")
    for name, least, most in (
        ("good", 0.001, 10_000.0), ("centring", 0.001, 600.0), ("frame_error", 0.001, 600.0),
        ("base_leans_to_pole", -20.0, 20.0), ("base_leans_east", -20.0, 20.0),
        ("altitude_turns", -100.0, 100.0), ("azimuth_turns", -100.0, 100.0),
    ):  # fmt: skip
        value = getattr(options, name)
        if value is not None and not least <= value <= most:
            option = "--" + name.replace("_", "-")
            raise AxletreeError(f"{option} {value:g} must lie between {least:g} and {most:g}")


def _measure(
    options: argparse.Namespace, kit: Kit, observer: Observer, now: datetime, pole: Pole
) -> Finding | None:
    from axletree.tell.check import findings as check_findings

    if options.way == "all":
        return None
    if options.way == "frames":
        from axletree.pole.picture.frame_file import read_frame

        frames = [read_frame(file) for file in options.files]
        return check_findings.from_frames(frames, observer, pole, options.frame_error)
    source = options.files[0]
    held = getattr(options, "held", None)
    if held is not None:
        text, label = held[:2]
    else:
        text, label = _text(source), "standard input" if source == "-" else source

    def moment(words: str) -> datetime:
        return _moment(words, now, kit)

    if options.way == "drift":
        from axletree.pole.rows.drift_file import read_drift
        from axletree.pole.solution.record import covered, row_marks

        rows = read_drift(text, label, observer, moment)
        key = _key(options, "drift", text)
        marks = row_marks(text)
        others = [
            r for r in _records(options) if r.get("key") != key and not covered(r, "drift", marks)
        ]
        evidence = _evidence(_known(others, now, kit, observer, pole))
        return check_findings.from_drift(rows, text, label, now, observer, pole, evidence)
    from axletree.pole.rows.readings_file import read_circles

    circles = read_circles(text, label, observer, moment)
    from axletree.tell.check.circles import from_readings

    return from_readings(circles, text, label, now, kit, observer, pole, options.centring)


def _text(source: str) -> str:
    if source == "-":
        return sys.stdin.read(LARGEST_FILE_BYTES)
    path = Path(source)
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            raise AxletreeError(f"{path}: larger than 2 MB, not a list of measurements")
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise AxletreeError(f"{path}: no such file") from None
    except UnicodeDecodeError:
        raise AxletreeError(f"{path}: not a text file in UTF-8") from None


def _moment(words: str, now: datetime, kit: Kit) -> datetime:
    """A time of day of this evening (noon to noon), or ISO 8601; without a zone the site's."""
    zone = kit.site.zone
    try:
        clock = time.fromisoformat(words)
    except ValueError:
        moment = datetime.fromisoformat(words)
        return moment if moment.tzinfo else moment.replace(tzinfo=zone)
    evening = (now.astimezone(zone) - timedelta(hours=12)).date()
    day = evening if clock.replace(tzinfo=None) >= time(12) else evening + timedelta(days=1)
    return datetime.combine(day, clock.replace(tzinfo=None), tzinfo=clock.tzinfo or zone)


def _notes(options: argparse.Namespace) -> Path:
    return Path(options.notes or NOTES_FILE)


def _records(options: argparse.Namespace) -> list[dict[str, Any]]:
    from axletree.logbook.lines import read_lines

    return [] if options.no_notes else read_lines(_notes(options))


def _known(
    records: list[dict[str, Any]], now: datetime, kit: Kit, observer: Observer, pole: Pole
) -> Tonight:
    from axletree.pole.solution.record import evening_of, tonight

    zone = kit.site.zone
    return tonight(records, evening_of(now, zone), zone, observer, pole)


def _evidence(known: Tonight) -> AxisEstimate | None:
    """What earlier measurements of tonight say."""
    from axletree.pole.solution.combine import combine

    return combine([m.estimate for m in known.since_turn]).estimate if known.since_turn else None


def key_of(method: str, text: str) -> str:
    """What tells one measurement from another, however often its file is read."""
    return hashlib.sha256(f"{method}\n{text}".encode()).hexdigest()[:16]


def _key(options: argparse.Namespace, method: str, text: str) -> str:
    held = getattr(options, "held", None)
    return str(held[2]) if held is not None else key_of(method, text)


def _turned(options: argparse.Namespace, kit: Kit, observer: Observer, now: datetime) -> Answer:
    from axletree.logbook.axis_notes import note_turn
    from axletree.pole.solution.record import turn_record
    from axletree.tell.check.text import turned_text

    record = turn_record(now, options.altitude_turns, options.azimuth_turns, observer)
    noted = note_turn(_notes(options), record, kit.site)
    return Answer(turned_text(record, noted, kit), {**record, "noted_in": noted})


def _near(
    options: argparse.Namespace, kit: Kit, observer: Observer, now: datetime
) -> Candidates | None:
    """Stars that can be used now; None by day, and outside the years of the ephemeris."""
    from axletree.ground.skyline.of_site import site_horizon
    from axletree.pole.solution.candidates import stars_now

    return stars_now(now, observer, site_horizon(kit.site, kit_folder(options), now).altitude_at)
