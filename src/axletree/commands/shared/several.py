"""What does `axletree evening` answer for several kits of one event?"""

from __future__ import annotations

import argparse
import json
import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from axletree.commands.shared.common import Answer, is_demo, kit_folder, parse_date, read_kit
from axletree.commands.shared.own_logbook import finding_learned, learning_path
from axletree.commands.shared.own_state import state_of_evening
from axletree.commands.shared.progress import Bar
from axletree.commands.shared.written import written_words
from axletree.evening.event.share import Berth, Event, refuse_berths, share_evening
from axletree.evening.sheet.plan import Planned
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit
from axletree.sky.observer import observer_of

Sheets = Callable[[Kit, Planned, Path], dict[Path, bytes]]


def answer_several(options: argparse.Namespace, sheets: Sheets) -> Answer:
    """The common table, and with --out each telescope's run sheet; `sheets` makes one's files."""
    from axletree.logbook.own import seen_lately
    from axletree.tell.evening.event.data import event_data
    from axletree.tell.evening.event.text import event_text
    from axletree.tell.evening.progress_text import event_step_words
    from axletree.tell.shared.files import write_set

    for name in ("field_sheet", "calendar"):
        if getattr(options, name, None):
            option = "--" + name.replace("_", "-")
            raise AxletreeError(f"{option} is for one kit; --out writes every kit's run sheet")
    if getattr(options, "take_time", False):
        raise AxletreeError("--take-time is for one kit: an event is shared out as well as it can")
    if options.tube is not None:
        raise AxletreeError("--tube is for one kit: give each telescope's kit its own tube")
    berths = [_berth(options, named) for named in options.kits]
    refuse_berths(berths)
    site = berths[0].kit.site
    day = parse_date(options.date, site)
    # Where all are demo kits nobody's own evenings count.
    own = next((k for k in options.kits if not is_demo(k)), options.kits[0])
    asked = argparse.Namespace(kit=own, logbook=options.logbook)
    seen = seen_lately(learning_path(asked), day, site, berths[0].kit.habits)
    now = datetime.now(site.zone).replace(microsecond=0)
    berths = [
        _learned(options, named, b, day, now) for named, b in zip(options.kits, berths, strict=True)
    ]
    with Bar(len(berths) + 2) as bar:
        event = share_evening(
            berths,
            day,
            made_at=now,
            minutes_per_stop=options.minutes_per_stop,
            seen=seen,
            progress=lambda label: bar(event_step_words(label)),
        )
        text, data = event_text(event), event_data(event)
        if options.out:
            bar("run sheets")
            files = _files(event, berths, text, Path(options.out), sheets)
            write_set(files)
            text += written_words(files)
    return Answer(text, data)


def _berth(options: argparse.Namespace, named: str) -> Berth:
    one = argparse.Namespace(kit=named, site=options.site)
    kit = read_kit(one)
    return Berth(kit, observer_of(kit.site), kit_folder(one))


def _learned(
    options: argparse.Namespace, named: str, berth: Berth, day: date, now: datetime
) -> Berth:
    """The telescope with what is known of its mount, and of who finds with it."""
    from axletree.stages.night.evening import pointing_of_evening

    one = argparse.Namespace(
        kit=named, as_kit=options.as_kit, notes=options.notes, logbook=options.logbook
    )
    state = state_of_evening(one, berth.kit, day, now)
    return replace(
        berth, state=state, pointing=pointing_of_evening(berth.kit, state, day, berth.folder),
        learned=finding_learned(one, berth.kit),
    )  # fmt: skip


def _files(
    event: Event, berths: Sequence[Berth], text: str, folder: Path, sheets: Sheets
) -> dict[Path, bytes]:
    from axletree.tell.evening.event.data import event_data

    data = json.dumps(event_data(event), ensure_ascii=False, indent=2)
    files = {
        folder / "event.txt": f"{text}\n".encode(), folder / "event.json": f"{data}\n".encode(),
    }  # fmt: skip
    names = folder_names(event.labels)
    for name, berth, planned in zip(names, berths, event.planned, strict=True):
        files |= sheets(berth.kit, planned, folder / name)
    return files


def folder_names(labels: Sequence[str]) -> list[str]:
    """A plain folder name for each telescope, no two alike."""
    made: list[str] = []
    for label in labels:
        plain = unicodedata.normalize("NFKD", label).encode("ascii", "ignore").decode().lower()
        name = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40] or "telescope"
        made.append(name if name not in made else f"{name}-{len(made) + 1}")
    return made
