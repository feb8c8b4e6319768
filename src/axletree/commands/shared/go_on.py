"""What does `axletree evening --go-on` answer: the rest of the evening, ordered again from now?"""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from axletree.commands.shared.common import Answer, kit_folder, parse_moment, read_kit
from axletree.commands.shared.own_logbook import finding_learned, logbook_path
from axletree.commands.shared.own_state import state_of_evening
from axletree.commands.shared.written import PAPER_FILES, written_words
from axletree.kit.errors import AxletreeError
from axletree.sky.observer import observer_of
from axletree.sky.time.nights import later

if TYPE_CHECKING:
    from axletree.axis.state import State
    from axletree.evening.sheet.going_on import ClosedSky, SoFar, Standing
    from axletree.evening.stops.windows import OrderTask
    from axletree.tell.evening.document import Evening
    from axletree.tell.evening.parts.stop_facts import StopFacts

LARGEST_BYTES = 5_000_000
LONGEST_STAY_MIN = 240.0
SAME_CLOCK_S = 60.0  # a telephone and a computer differ by no more (ours)


def go_on_options(parser: argparse.ArgumentParser) -> None:
    """The options of the replan at the telescope."""
    group = parser.add_argument_group("at the telescope, when things change")
    group.add_argument("--go-on", metavar="FILE.json",
                       help="the run sheet that people know: the rest in a new order")  # fmt: skip
    group.add_argument("--at", metavar="ISO", help="now (the clock's now)")
    group.add_argument("--late", action="store_true", help="nothing has been shown yet")
    group.add_argument("--skip", action="append", default=[], metavar="OBJECT",
                       help="leave it out; may be repeated")  # fmt: skip
    group.add_argument("--longer", type=float, metavar="MIN",
                       help="stay so many minutes more at the present object")  # fmt: skip
    group.add_argument("--clouds", action="append", default=[], metavar="AZ-AZ[:ALT-ALT]",
                       help="clouds from one azimuth clockwise to another, from now on;"
                       " may be repeated")  # fmt: skip
    group.add_argument("--cloud-min", type=float, metavar="MIN",
                       help="how long the clouds will stay (all night)")  # fmt: skip
    group.add_argument("--promise", action="append", default=[], metavar="OBJECT",
                       help="people have been promised it; may be repeated")  # fmt: skip


def refuse_go_on_words(options: argparse.Namespace) -> None:
    """One line for options of the replan without the run sheet that they change."""
    for name in ("at", "late", "skip", "longer", "clouds", "cloud_min", "promise"):
        if getattr(options, name, None):
            raise AxletreeError(
                f"--{name.replace('_', '-')} changes a run sheet that people know: name its "
                "file with --go-on (axletree evening --out writes it)"
            )


def answer_again(options: argparse.Namespace) -> Answer:
    """The stops from now on; a promise comes before everything."""
    from axletree.evening.sheet.going_on import go_on
    from axletree.evening.sheet.plan import EveningRequest, planned_of, prepare, refuse_unknown_day
    from axletree.logbook.own import last_logged
    from axletree.stages.night.evening import pointing_of_evening
    from axletree.tell.evening.document import evening_json
    from axletree.tell.evening.go_on.text import again_text
    from axletree.tell.evening.stop_data import given_up_facts, order_facts, stop_facts
    from axletree.tell.find.stop_text import ways_words

    _refuse(options)
    kit = read_kit(options)
    known = _read(Path(options.go_on))
    if known.rig.kit_name != kit.name or known.place.name != kit.site.name:
        raise AxletreeError(
            f"{options.go_on} was planned for '{known.rig.kit_name}' at {known.place.name}, the "
            f"kit is '{kit.name}' at {kit.site.name}: name its kit with --kit"
        )
    refuse_unknown_day(known.date, f"{options.go_on}: date")
    now = parse_moment(options.at, kit.site)
    observer = observer_of(kit.site)
    queue_min = known.stops[0].queue_s / 60.0 if known.stops else None
    mount = state_of_evening(options, kit, known.date, now)
    prepared = prepare(
        kit,
        observer,
        EveningRequest(
            known.date,
            made_at=now,
            minutes_per_stop=queue_min,
            kit_folder=kit_folder(options),
            state=mount,
            pointing=pointing_of_evening(kit, mount, known.date, kit_folder(options)),
            learned=finding_learned(options, kit),
            promised=_promised_names(options, known),
        ),
    )
    if prepared.task is None:
        raise AxletreeError(f"{known.date}: there is no darkness for stars in these hours")
    targets = frozenset(target.key for target in prepared.task.targets)
    state = _state(options, known, now, prepared.task)
    new = go_on(kit, observer, planned_of(prepared, None), state)
    strangers = [s.name for s in known.stops if s.catalogue_id not in targets and s.end > now]
    evening = known.model_copy(
        update={
            "made_at": now,
            "stages": (),
            "stops": tuple(stop_facts(stop, known.units) for stop in new.stops),
            "order": order_facts(new.quality),
            "ways_words": ways_words(new.stops),
            "given_up": tuple(given_up_facts(left) for left in new.lost),
            **_circles_again(known, prepared.state),
        }
    )
    noted = last_logged(logbook_path(options), known.date, known.place)
    ahead = noted if noted is not None and noted > later(now, SAME_CLOCK_S) else None
    text = again_text(evening, new, now, strangers, ahead)
    if options.out:
        from axletree.tell.evening.text import evening_text
        from axletree.tell.shared.files import write_set

        files = {
            Path(options.out) / "run-sheet.txt": evening_text(evening) + "\n",
            Path(options.out) / "run-sheet.json": evening_json(evening) + "\n",
        }
        write_set({path: words.encode() for path, words in files.items()})
        paper = [Path(options.out) / name for name in PAPER_FILES]
        text += written_words(files, [file for file in paper if file.exists()])
    return Answer(text, json.loads(evening_json(evening)))


def _circles_again(known: Evening, state: State | None) -> dict[str, Any]:
    """What the run sheet says of the mount's own circles, as it is known now."""
    from axletree.axis.state import axis_state
    from axletree.tell.evening.circles_text import own_circles_words
    from axletree.tell.evening.data import state_facts

    state = axis_state(state)
    if state is None:
        return {"state": None}
    said = known.assumptions
    if known.state is None:
        said = (*said, own_circles_words(state))
    return {"state": state_facts(state), "assumptions": said}


def _refuse(options: argparse.Namespace) -> None:
    for name in ("field_sheet", "calendar", "date", "minutes_per_stop", "take_time", "own"):
        if getattr(options, name, None):
            option = "--" + name.replace("_", "-")
            raise AxletreeError(f"{option} doesn't go with --go-on, which keeps the known evening")
    if options.longer is not None and not 0 < options.longer <= LONGEST_STAY_MIN:
        raise AxletreeError(f"--longer must lie between 0 and {LONGEST_STAY_MIN:g} minutes")
    if options.cloud_min is not None and not 0 < options.cloud_min <= 1440:
        raise AxletreeError("--cloud-min must lie between 0 and 1440 minutes")
    if options.late and options.longer is not None:
        raise AxletreeError("--late says that nothing is shown yet, --longer that something is")


def _read(path: Path) -> Evening:
    from pydantic import ValidationError

    from axletree.kit.reading.files import AbsentFileError, text_of_file
    from axletree.tell.evening.document import read_evening

    try:
        return read_evening(text_of_file(path, LARGEST_BYTES, "a run sheet"))
    except AbsentFileError as absent:
        raise AxletreeError(f"{absent}; 'axletree evening --out' writes it") from None
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"]) or "the whole"
        raise AxletreeError(f"{path}: not a run sheet ({where}: {first['msg']})") from None


def _promised_names(options: argparse.Namespace, known: Evening) -> tuple[str, ...]:
    """What people have been promised, now or on the run sheet, by names that anything finds."""
    before = [stop.name for stop in known.stops if stop.promised]
    given = [
        next((stop.name for stop in known.stops if _is_called(stop, name)), name)
        for name in options.promise
    ]
    return tuple(dict.fromkeys([*before, *given]))


def _is_called(stop: StopFacts, name: str) -> bool:
    """Whether people call this stop so."""
    from axletree.sky.catalogue.names import fold
    from axletree.sky.orbits.names import spoken

    called = (*spoken(stop.name), stop.catalogue_id, *stop.also_called)
    return fold(name) in {fold(n) for n in called}


def _state(options: argparse.Namespace, known: Evening, now: datetime, task: OrderTask) -> SoFar:
    """What has happened by the run sheet and the options."""
    from axletree.evening.sheet.going_on import SoFar
    from axletree.logbook.own import logged_tonight

    targets = frozenset(target.key for target in task.targets)
    stops = [s for s in known.stops if s.catalogue_id in targets]
    standing = None if options.late else _standing(options, stops, now)
    over = [] if options.late else [s.catalogue_id for s in stops if s.end <= now]
    logged = logged_tonight(logbook_path(options), known.date, known.place)
    over += [key for key in logged if key in targets]
    skipped = [_key(name, known, task, "--skip") for name in options.skip]
    if standing is not None and standing.key in (*skipped, *over):
        over.append(standing.key)
        standing = None
    gone = tuple(dict.fromkeys([*over, *skipped]))
    asked = [_key(name, known, task, "--promise") for name in options.promise]
    promised = [*(s.catalogue_id for s in stops if s.promised), *asked]
    until = None if options.cloud_min is None else later(now, 60.0 * options.cloud_min)
    return SoFar(
        at=now,
        gone=gone,
        standing=standing,
        promised=tuple(dict.fromkeys(k for k in promised if k not in gone)),
        announced=tuple(s.catalogue_id for s in stops if s.catalogue_id not in gone),
        closed=tuple(cloud(text, now, until) for text in options.clouds),
    )


def _standing(
    options: argparse.Namespace, stops: Sequence[StopFacts], now: datetime
) -> Standing | None:
    """The stop that runs by the run sheet; with --longer the last one that began."""
    from axletree.evening.sheet.going_on import Standing

    begun = [s for s in stops if s.begin <= now]
    if not begun:
        if options.longer is not None:
            raise AxletreeError("--longer: no stop of the run sheet has begun yet")
        return None
    last = begun[-1]
    until = last.end
    if options.longer is not None:
        until = later(max(last.end, now), 60.0 * options.longer)
    if until <= now:
        return None
    return Standing(last.catalogue_id, last.chosen.side, last.begin, until)


def _key(name: str, known: Evening, task: OrderTask, option: str) -> str:
    """The catalogue id of an object that a person names: of the run sheet first.

    What gets no stop tonight is refused with the reason.
    """
    from axletree.evening.stops.outcome import omitted
    from axletree.sky.catalogue.names import fold
    from axletree.sky.catalogue.objects import find
    from axletree.sky.orbits.names import spoken
    from axletree.tell.stop.text import given_up_words

    for stop in known.stops:
        if _is_called(stop, name):
            return stop.catalogue_id
    for candidate in task.chosen.candidates:
        if fold(name) in map(fold, spoken(candidate.thing.name)):
            return candidate.thing.catalogue_id
    try:
        thing = find(name)
    except AxletreeError as error:
        raise AxletreeError(f"{option}: {error}") from None
    if thing.catalogue_id in {target.key for target in task.targets}:
        return thing.catalogue_id
    for one in task.chosen.left_out:
        if one.name in (thing.name, thing.catalogue_id):
            why = given_up_words(replace(omitted(one), promised=False))
            raise AxletreeError(f"{option}: {thing.name}: {why}")
    raise AxletreeError(f"{option}: {thing.name} is not among tonight's objects")


def cloud(text: str, begin: datetime, end: datetime | None) -> ClosedSky:
    """'90-180' or '90-180:0-40' as a part of the sky that is closed."""
    from axletree.evening.sheet.going_on import ClosedSky

    number = r"\s*(\d+(?:\.\d+)?)\s*"
    match = re.fullmatch(f"{number}[-–]{number}(?::{number}[-–]{number})?", text)
    if match is None:
        raise AxletreeError(f"--clouds '{text}': write azimuths like 90-180, or 90-180:0-40")
    first, last = float(match[1]), float(match[2])
    low, high = float(match[3] or 0.0), float(match[4] or 90.0)
    if first > 360 or last > 360:
        raise AxletreeError(f"--clouds '{text}': azimuths lie between 0 and 360 degrees")
    if not 0 <= low < high <= 90:
        raise AxletreeError(f"--clouds '{text}': altitudes rise between 0 and 90 degrees")
    return ClosedSky(first % 360.0, last % 360.0, low, high, begin, end)
