"""How far is the polar axis off, really, and which bolt puts it right?

  axletree check drift FILE.csv      drift of stars in declination
  axletree check readings FILE.csv   circle readings of centred stars
  axletree check frames A.fits B.fits ...
                                     frames, the hour axis turned between them
  axletree check pictures A.jpg B.jpg ...
                                     plain pictures, the hour axis turned between
  axletree check turned              a bolt was turned: earlier ones don't count
  axletree check                     all measurements since then, together

A file named - is read from standard input. Each measurement is noted in
axletree-axis.jsonl in this folder (and in the logbook, if one was begun for
this evening). Drift needs the star in the middle by the hour knob or drive
alone; frames need a celestial WCS (TAN, TAN-SIP, TPV ...) and a time; pictures
(JPEG, PNG, TIFF, FITS) a field of 2 degrees and more, and the camera's zone.
"""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from axletree.commands.set_up.watching import watched
from axletree.commands.shared.common import (
    Answer,
    kit_folder,
    kit_options,
    parse_moment,
    read_kit,
    refuse_outside,
)
from axletree.commands.shared.own_logbook import learning_path, logbook_option
from axletree.commands.shared.pictures import pictures_of, pictures_options
from axletree.kit.errors import AxletreeError
from axletree.logbook.lines import NOTES_FILE

if TYPE_CHECKING:
    from axletree.kit.kit import Kit
    from axletree.logbook.axis_notes import AxisNotes, Origin
    from axletree.pole.solution.record import Tonight
    from axletree.stages.set_up.measurements import Measurement

EXAMPLE = "axletree check drift stars.csv --draw axis.svg"
TURNED, ALL = "turned", "all"
ASKED = ("drift", "readings", "frames", "pictures", TURNED, ALL)
LARGEST_FILE_BYTES = 2_000_000


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    from axletree.pole.readings.observed import CENTRING_ARCMIN
    from axletree.tell.check.columns_text import columns_text

    parser.add_argument(
        "way", nargs="?", default=ALL, choices=ASKED, metavar="WAY",
        help="drift, readings, frames, pictures or turned; all together if left out",
    )  # fmt: skip
    parser.add_argument(
        "files", nargs="*", metavar="FILE", help="a CSV file, FITS frames, or pictures"
    )
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
        "--centring", type=float, default=CENTRING_ARCMIN, metavar="ARCMIN",
        help=f"readings: error of centring a star ({CENTRING_ARCMIN:g})",
    )  # fmt: skip
    parser.add_argument(
        "--frame-error", type=float, metavar="ARCSEC",
        help="frames: error of one solved frame (a fifth of a pixel)",
    )  # fmt: skip
    pictures_options(parser)
    for bolt in ("altitude", "azimuth"):
        parser.add_argument(
            f"--{bolt}-turns", type=float, default=0.0, metavar="TURNS",
            help=f"turned: how far the {bolt} bolt was turned, clockwise positive",
        )  # fmt: skip
    logbook_option(parser)
    parser.description = f"{(parser.description or '').rstrip()}\n\n{columns_text()}"


def answer(options: argparse.Namespace) -> Answer:
    """Measure, combine, note, and say which bolt to turn."""
    from axletree.logbook.axis_notes import AxisNotes
    from axletree.logbook.own import learned_bolts
    from axletree.tell.logbook.text import learned_words

    _refuse(options)
    better = learned_bolts(read_kit(options), learning_path(options))
    kit, learned = better.kit, learned_words(better)
    notes = AxisNotes.of_kit(Path(options.notes or NOTES_FILE), kit)
    now = parse_moment(options.at, kit.site)
    if options.way == TURNED:
        return _turned(options, kit, notes, now)
    return _checked(options, kit, notes, now, learned)


def _checked(
    options: argparse.Namespace,
    kit: Kit,
    notes: AxisNotes,
    now: datetime,
    learned: tuple[str, ...],
) -> Answer:
    from axletree.axis.frame import Pole
    from axletree.stages.set_up.check import NOTHING_KNOWN, CheckRequest, check
    from axletree.stages.set_up.check_findings import measured_at
    from axletree.tell.check.data import check_data
    from axletree.tell.check.text import check_text, noted_in_words

    pole: Pole = "true" if options.true_pole else "refracted"
    given = _measurement(options, kit, now)
    measurement, origin = given if given is not None else (None, None)
    at = now
    if measurement is not None and options.at is None:
        at = measured_at(measurement, now)
    known: Tonight = NOTHING_KNOWN if options.no_notes else notes.tonight(at, pole, origin)
    request = CheckRequest(
        at=at,
        measurement=measurement,
        known=known,
        counts=not options.no_notes,
        pole=pole,
        good_arcmin=options.good,
        leans_to_pole_deg=options.base_leans_to_pole,
        leans_east_deg=options.base_leans_east,
        kit_folder=kit_folder(options),
    )
    found = check(kit, request)
    if not found.measured:
        raise AxletreeError(
            "nothing was measured since the last turn of a bolt tonight; begin with "
            "'axletree check drift', 'check readings', 'check frames' or 'check pictures'"
        )
    where = ""
    if found.finding is not None and origin is not None and not options.no_notes:
        noted = notes.note(found.finding, origin, pole)
        where = noted_in_words(noted.file, in_logbook=noted.in_logbook) if noted else ""

    if options.watch is not None:
        return watched(options, found, request, kit, check_text(found, learned, where))

    def drawing() -> str:
        from axletree.tell.check.drawing import check_drawing

        return check_drawing(found)

    return Answer(
        check_text(found, learned, where), check_data(found, learned, where or None), drawing
    )


def _turned(options: argparse.Namespace, kit: Kit, notes: AxisNotes, now: datetime) -> Answer:
    from axletree.stages.set_up.check import TurnedRequest, turned
    from axletree.tell.check.data import turned_data
    from axletree.tell.check.text import noted_in_words, turned_text

    found = turned(kit, TurnedRequest(now, options.altitude_turns, options.azimuth_turns))
    noted = notes.note_turn(found)
    where = noted_in_words(noted.file, in_logbook=noted.in_logbook)
    return Answer(turned_text(found, where), turned_data(found, where))


def _refuse(options: argparse.Namespace) -> None:
    if options.way in (ALL, TURNED) and options.files:
        raise AxletreeError(
            "say what the files hold: check drift, check readings, check frames or check pictures"
        )
    if options.way in ("drift", "readings") and len(options.files) != 1:
        raise AxletreeError(f"check {options.way} takes one CSV file, or - for standard input")
    if options.watch is not None and (options.way != "pictures" or options.json):
        raise AxletreeError("--watch goes with check pictures, and prints no JSON")
    if options.way == TURNED and options.no_notes:
        raise AxletreeError("check turned only notes that bolts were turned; leave out --no-notes")
    refuse_outside(options, {
        "good": (0.001, 10_000.0), "centring": (0.001, 600.0), "frame_error": (0.001, 600.0),
        "base_leans_to_pole": (-20.0, 20.0), "base_leans_east": (-20.0, 20.0),
        "altitude_turns": (-100.0, 100.0), "azimuth_turns": (-100.0, 100.0),
    })  # fmt: skip


def _measurement(
    options: argparse.Namespace, kit: Kit, now: datetime
) -> tuple[Measurement, Origin] | None:
    """What was measured, and what it was made from; None if everything known is asked for."""
    from axletree.logbook.axis_notes import Origin
    from axletree.pole.picture.frame_file import read_frame
    from axletree.pole.rows.drift_file import read_drift
    from axletree.pole.rows.reading import moments_of_evening
    from axletree.pole.rows.readings_file import read_circles
    from axletree.sky.observer import observer_of
    from axletree.stages.set_up.axis_remarks import AxisMethod
    from axletree.stages.set_up.measurements import (
        DriftMeasurement,
        FramesMeasurement,
        ReadingsMeasurement,
    )

    if options.way == ALL:
        return None
    if options.way == AxisMethod.PICTURES:
        brought = pictures_of(options, kit)
        return brought, Origin.of_pictures(brought.shots)
    if options.way == AxisMethod.FRAMES:
        frames = tuple(read_frame(file) for file in options.files)
        return FramesMeasurement(frames, options.frame_error), Origin.of_frames(frames)
    text, source = _text(options.files[0])
    observer, moment = observer_of(kit.site), moments_of_evening(now, kit.site.zone)
    origin = Origin.of_text(AxisMethod(options.way), text)
    if options.way == AxisMethod.DRIFT:
        return DriftMeasurement(read_drift(text, source, observer, moment), source), origin
    circles = read_circles(text, source, observer, moment)
    return ReadingsMeasurement(circles, source, options.centring), origin


def _text(source: str) -> tuple[str, str]:
    """The text of a list, and what to call it."""
    from axletree.kit.reading.files import STANDARD_INPUT, text_of_file, text_of_input

    what = "a list of measurements"
    if source == "-":
        return text_of_input(LARGEST_FILE_BYTES, what), STANDARD_INPUT
    return text_of_file(Path(source), LARGEST_FILE_BYTES, what), source
