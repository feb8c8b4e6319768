"""The whole run sheet for one night, from one kit file and a date.

Set-up times backwards from darkness, the numbers for each stage, and the stops in their order,
each with tube side, circles, room, eyepiece, nudge and warnings. With --out DIR it is also
written as text, JSON (docs/evening.schema.json) and PDF. --field-sheet writes the whole evening
as one HTML file for a phone without a signal; --calendar writes it for an ordinary calendar.

Several kits make an event: the objects are shared out, so that neighbours do not show the same.
At the telescope, --go-on orders the rest of a run sheet again: late, clouds, skip, longer.
"""

from __future__ import annotations

import argparse
import json
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from axletree.commands.shared.common import Answer, kit_folder, kit_options, parse_date, read_kit
from axletree.commands.shared.go_on import answer_again, go_on_options, refuse_go_on_words
from axletree.commands.shared.own_logbook import finding_learned, learning_path, logbook_option
from axletree.commands.shared.own_state import state_of_evening, state_options
from axletree.commands.shared.progress import Bar
from axletree.commands.shared.written import PAPER_FILES, written_words
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of
from axletree.tell.paper.typeset import Paper

if TYPE_CHECKING:
    from axletree.evening.sheet.plan import Planned
    from axletree.kit.kit import Kit
    from axletree.tell.evening.document import Evening

EXAMPLE = "axletree evening --kit courtyard.toml --date 2026-12-05 --out night"


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments."""
    parser.add_argument("kits", nargs="*", metavar="KIT", help="kit files; several make an event")
    kit_options(parser, at=False, draw=True)
    parser.add_argument("--date", metavar="DATE", help="the evening's date, 2026-12-05 (tonight)")
    parser.add_argument("--minutes-per-stop", type=float, metavar="M",
                        help="time at each object (the kit's visitors and seconds)")  # fmt: skip
    parser.add_argument("--take-time", action="store_true",
                        help="seconds more for a better order")  # fmt: skip
    parser.add_argument("--out", metavar="DIR", help="write run sheet files into this folder")
    parser.add_argument("--paper", choices=get_args(Paper), default="a4",
                        help="size of the paper (a4)")  # fmt: skip
    parser.add_argument("--field-sheet", metavar="FILE.html", help="write the phone's sheet")
    parser.add_argument("--calendar", metavar="FILE.ics", help="write the calendar file")
    parser.add_argument("--own", metavar="FILE.csv", help="a list of your own (the kit's)")
    logbook_option(parser)
    state_options(parser)
    go_on_options(parser)


def answer(options: argparse.Namespace) -> Answer:
    """Plan, print and write the evening."""
    from axletree.evening.sheet.plan import EveningRequest, plan_whole
    from axletree.logbook.own import seen_lately
    from axletree.stages.night.evening import pointing_of_evening
    from axletree.tell.evening.data import evening_document
    from axletree.tell.evening.document import evening_json
    from axletree.tell.evening.progress_text import plan_step_words
    from axletree.tell.evening.text import evening_text
    from axletree.tell.shared.files import write_set

    if options.minutes_per_stop is not None and not 1 <= options.minutes_per_stop <= 240:
        raise AxletreeError("--minutes-per-stop must lie between 1 and 240")
    if options.kits:
        if options.kit is not None:
            raise AxletreeError("name kits either with --kit or without it, not both ways")
        if len(options.kits) > 1:
            return _several(options)
        options.kit = options.kits[0]
    if options.go_on:
        return answer_again(options)
    refuse_go_on_words(options)
    kit = read_kit(options)
    day = parse_date(options.date, kit.site)
    seen = seen_lately(learning_path(options), day, kit.site, kit.habits)
    now = datetime.now(kit.site.zone).replace(microsecond=0)
    state, folder = state_of_evening(options, kit, day, now), kit_folder(options)
    with Bar(6 + bool(options.field_sheet or options.calendar)) as bar:
        planned = plan_whole(
            kit,
            observer_of(kit.site),
            EveningRequest(
                day,
                made_at=now,
                minutes_per_stop=options.minutes_per_stop,
                kit_folder=folder,
                own_file=Path(options.own) if options.own else None,
                seen=seen,
                state=state,
                pointing=pointing_of_evening(kit, state, day, folder),
                learned=finding_learned(options, kit),
                effort="thorough" if options.take_time else "auto",
            ),
            progress=lambda step: bar(plan_step_words(step)),
        )
        evening = evening_document(planned.evening)
        text = evening_text(evening)
        files: dict[Path, bytes] = {}
        if options.out:
            bar("text, JSON and paper")
            files |= _sheets(kit, planned, evening, Path(options.out), options.paper)
        if options.field_sheet or options.calendar:
            bar("phone sheet and calendar file")
            files |= _carried(options, kit, planned, evening)
        if files:
            write_set(files)
            text += written_words(files)

    def drawing() -> str:
        from axletree.tell.evening.drawing import evening_view

        return evening_view(evening)

    return Answer(text, json.loads(evening_json(evening)), drawing)


def _several(options: argparse.Namespace) -> Answer:
    from axletree.commands.shared.several import answer_several
    from axletree.tell.evening.data import evening_document

    if options.go_on:
        raise AxletreeError("--go-on is for one kit: give it each telescope's own run sheet")
    if options.own is not None:
        raise AxletreeError("--own is for one kit: name own_objects_file in each kit")
    refuse_go_on_words(options)

    def sheets(kit: Kit, planned: Planned, folder: Path) -> dict[Path, bytes]:
        return _sheets(kit, planned, evening_document(planned.evening), folder, options.paper)

    return answer_several(options, sheets)


def _sheets(
    kit: Kit, planned: Planned, evening: Evening, folder: Path, paper: Paper
) -> dict[Path, bytes]:
    """What goes into the folder of a run sheet: text, JSON and paper."""
    from axletree.tell.evening.document import evening_json
    from axletree.tell.evening.text import evening_text
    from axletree.tell.paper.paper import evening_pdf
    from axletree.tell.paper.pictures import (
        stage_pictures,
        stop_fields,
        stop_pictures,
        tape_pictures,
    )
    from axletree.tell.paper.pocket import pocket_pdf

    pdf = evening_pdf(
        evening,
        stage_pictures(kit, observer_of(kit.site), evening),
        stop_pictures(planned.ground.table, evening),
        stop_fields(planned.evening.stops),
        tape_pictures(kit, planned.ground.table, evening),
        paper=paper,
    )
    files = {
        "run-sheet.txt": (evening_text(evening) + "\n").encode(),
        "run-sheet.json": (evening_json(evening) + "\n").encode(),
        **dict(zip(PAPER_FILES, (pdf, pocket_pdf(evening, paper)), strict=True)),
    }
    return {folder / name: content for name, content in files.items()}


def _carried(
    options: argparse.Namespace, kit: Kit, planned: Planned, evening: Evening
) -> dict[Path, bytes]:
    """What goes along into the field: the phone's sheet and the calendar file."""
    files: dict[Path, bytes] = {}
    if options.field_sheet:
        from axletree.commands.shared.common import read_rig_here
        from axletree.evening.sheet.tables import night_tables
        from axletree.tell.field_sheet.field_sheet import field_sheet

        tables = night_tables(kit, observer_of(kit.site), planned)
        files[Path(options.field_sheet)] = field_sheet(
            evening, tables, planned.ground.table, kit_toml=read_rig_here(options).text
        )
    if options.calendar:
        from axletree.tell.evening.calendar_file import evening_ics

        files[Path(options.calendar)] = evening_ics(evening)
    return files
