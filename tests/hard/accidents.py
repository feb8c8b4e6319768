"""What does Axletree do with a file after an accident? One answer or one line, nothing else.

`suffer` writes mutant k of a kind into a folder, runs the commands that read it, and gives back
all that went wrong: an exception, a warning, more than one line of refusal, a refusal that names
neither line nor key, a file left over, anything opened outside the folder. As a program it runs
through thousands and prints figures:

python tests/hard/accidents.py [--count 10000] [--kinds kit,list,frame,record]
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import json
import os
import random
import re
import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any

from mutants import (
    CARDS,
    DRIFTS,
    OWN,
    RA_READINGS,
    READINGS,
    SEEN_DRIFTS,
    SERIES,
    SKYLINE,
    fits_bytes,
    fits_mutant,
    flipped,
    json_mutant,
    kit_texts,
    text_mutant,
)
from watchman import on_watch

from axletree.cli import main as axletree

KINDS = ("kit", "list", "frame", "record", "sheet")
AT = ("--at", "2026-12-05T20:30")
DATE = ("--date", "2026-12-05")

# Commands that read a kit, and how often each is tried on one that is still right.
ON_KITS: tuple[tuple[int, tuple[str, ...]], ...] = (
    (10, ("where", "Vega", *AT)), (10, ("level", "--bubble", "1.5", "135")),
    (10, ("balance",)), (4, ("balance", "--stand", "--json")), (8, ("enough",)),
    (8, ("north", *AT)), (8, ("pole", *AT, "--draw", "out.svg")), (8, ("follow", "Moon", *AT)),
    (6, ("point", "M31", *AT, "--draw", "out.svg")), (6, ("point", "Moon", "--json", *AT)),
    (2, ("room", "Vega", *AT, "--draw", "out.svg")), (2, ("objects", *DATE)),
    (1, ("spot", *DATE, "--spacing", "1")), (2, ("evening", *DATE, "--out", "night")),
    (1, ("calendar", "--from", "2026-12-01", "--to", "2026-12-05")),
    (3, ("log", "begin", *AT)),
)  # fmt: skip
# What a refusal of a file has to name: a line, a key with its table, a column, a keyword.
NAMED = re.compile(
    r"line \d+|line \d+, column \d+|\w+\.\w+|\w+\[\d+\]|'\w+'|\b[A-Z]{2,8}\d?(_\d)?\b|evening \d+"
    r"|char \d+|: unknown key|empty|no rows|UTF-8|larger than|too large|cut off|not a FITS|"
    r"not a logbook|nested|is missing|no such|damaged|not TOML|no usable|kit_version|eyepiece \d"
    r"|^\s*\w+: |export has version|no list of evenings|at least two stars|fix nothing of the axis"
)
QUOTED = re.compile(r"'.*'")  # the person's own words
OWN_VALUE = re.compile(r"(: |is | )-?(nan|inf|None)(: no frame| must| is )")
REFUSAL = re.compile(r"axletree [a-z ]+: \S")
FIRST_TOLD = re.compile(r"Traceback|<class|object at 0x|\bNone\b|\bnan\b|\binf\b")


@dataclass
class Outcome:
    """What one mutant led to."""

    kind: str
    number: int
    status: int | None = None
    wrong: list[str] = field(default_factory=list)


def run(words: Sequence[str], stdin: str = "") -> tuple[int | None, str, str, str]:
    """Status, standard output, standard error, and a traceback if there was one."""
    out, err = io.StringIO(), io.StringIO()
    fault, status = "", None
    before = sys.stdin
    sys.stdin = io.StringIO(stdin)
    try:
        with (
            contextlib.redirect_stdout(out), contextlib.redirect_stderr(err),
            warnings.catch_warnings(),
        ):  # fmt: skip
            warnings.simplefilter("always")
            status = axletree(list(words))
    except SystemExit as ended:
        status = int(ended.code or 0)
    except BaseException:  # the very thing that is looked for
        fault = traceback.format_exc()
    finally:
        sys.stdin = before
    return status, out.getvalue(), err.getvalue(), fault


def listing(folder: Path) -> dict[str, str]:
    """Every file in the folder with a digest of what it holds."""
    return {
        str(p.relative_to(folder)): hashlib.sha256(p.read_bytes()).hexdigest()
        for p in sorted(folder.rglob("*"))
        if p.is_file()
    }


def tell(
    outcome: Outcome, words: Sequence[str], folder: Path, made: Sequence[str] = (),
    must_name: bool = False, stdin: str = "", typed: bool = False,
) -> tuple[int | None, str]:  # fmt: skip
    """Run one command on watch and note what went wrong; its status and what it printed.

    `typed` words are the person's own: what they name outside is stopped, but no fault.
    """
    before = listing(folder)
    with on_watch(folder, free_to_read=typed) as watch:
        status, out, err, fault = run(words, stdin)
    said = " ".join(words)
    # The person's own words come back, 1e400 as inf.
    echoed = typed and re.search(r"nan|inf|None|1e400", said)
    outcome.status = status
    note = outcome.wrong.append
    if fault:
        note(f"{said}: {fault.strip().splitlines()[-1]}\n{fault}")
        return status, out
    for seen in dict.fromkeys(watch.seen):
        if not typed:
            note(f"{said}: {seen}")
    if status not in (0, 1, 2):
        note(f"{said}: status {status}")
    if status == 2:
        lines = err.strip().splitlines()
        if out or len(lines) != 1 or not REFUSAL.match(err):
            note(f"{said}: status 2, {len(lines)} lines of refusal: {err[:300]!r} {out[:80]!r}")
        if not echoed and FIRST_TOLD.search(OWN_VALUE.sub("", QUOTED.sub("", err))):
            note(f"{said}: odd words: {err.strip()[:300]!r}")
        if must_name and not NAMED.search(err):
            note(f"{said}: names neither line nor key: {err.strip()[:300]!r}")
        if len(err) > 1200:
            note(f"{said}: {len(err)} letters of refusal")
    elif typed and not echoed and FIRST_TOLD.search(out):
        note(f"{said}: odd words: {FIRST_TOLD.search(out)}")
    elif err:
        note(f"{said}: status {status} but said {err[:300]!r}")
    after = listing(folder)
    changed = {name for name in before.keys() | after.keys() if before.get(name) != after.get(name)}
    for name in changed:
        # A logbook is opened, and made, before its file of rows is looked at.
        if status == 2 and words[0] != "log":
            note(f"{said}: refused, and {name} was changed")
        elif Path(name).name.startswith(".") or not any(name.startswith(m) for m in made):
            note(f"{said}: left {name}")
    if status == 0 and "--json" in words:
        json.loads(out, parse_constant=lambda word: note(f"{said}: {word} in JSON"))
    return status, out


def suffer(kind: str, k: int, folder: Path) -> Outcome:
    """Mutant `k` of a kind in an empty folder, which has to be the current one."""
    rng = random.Random(f"{kind} {k}")
    outcome = Outcome(kind, k)
    {"kit": _kit, "list": _list, "frame": _frame, "record": _record, "sheet": _sheet}[kind](
        rng, outcome, folder
    )
    return outcome


def _kit(rng: random.Random, outcome: Outcome, folder: Path) -> None:
    (folder / "kit.toml").write_bytes(text_mutant(rng, rng.choice(kit_texts())))
    status, out = tell(outcome, ["kit", "check", "kit.toml"], folder, must_name=True)
    if status == 1:
        problems = out.splitlines()[1:]
        for problem in problems:
            if not NAMED.search(problem):
                outcome.wrong.append(f"kit check names neither line nor key: {problem!r}")
            if FIRST_TOLD.search(OWN_VALUE.sub("", QUOTED.sub("", problem))):
                outcome.wrong.append(f"kit check: odd words: {problem!r}")
    if status == 0 and rng.random() < 0.5:
        words = rng.choices([w for _, w in ON_KITS], [n for n, _ in ON_KITS])[0]
        made = ("out.svg", "night/run-sheet.", "axletree/logbook.sqlite")
        tell(outcome, [*words, "--kit", "kit.toml"], folder, made)
        outcome.status = status
        for svg in folder.glob("*.svg"):
            from xml.etree import ElementTree

            ElementTree.fromstring(svg.read_text(encoding="utf-8"))


LISTS = (
    ("drift", DRIFTS), ("drift", SEEN_DRIFTS), ("drift", SERIES), ("readings", READINGS),
    ("readings", RA_READINGS), ("skyline", SKYLINE), ("own", OWN),
)  # fmt: skip


@cache
def _kit_with_files() -> str:
    text = kit_texts()[0].replace("[site.skyline]", '[site.skyline]\nfile = "line.csv"')
    return text.replace("[habits]", '[habits]\nown_objects_file = "own.csv"')


def _list(rng: random.Random, outcome: Outcome, folder: Path) -> None:
    what, text = rng.choice(LISTS)
    data = text_mutant(rng, text)
    if what in ("drift", "readings"):
        (folder / "list.csv").write_bytes(data)
        tell(outcome, ["check", what, "list.csv", *AT], folder, ("axletree-axis.jsonl",), True)
        return
    (folder / "kit.toml").write_text(_kit_with_files(), encoding="utf-8")
    for name, good in (("line.csv", SKYLINE), ("own.csv", OWN)):
        (folder / name).write_text(good, encoding="utf-8")
    if what == "skyline":
        (folder / "line.csv").write_bytes(data)
        tell(outcome, ["pole", "--kit", "kit.toml", *AT], folder, must_name=True)
    else:
        (folder / "own.csv").write_bytes(data)
        words = ["objects", "--kit", "kit.toml", "--at", "2026-12-05T20:30", "--limit", "3"]
        tell(outcome, words if rng.random() < 0.7 else [*words, "--whole-list"], folder,
             must_name=True)  # fmt: skip


def _frame(rng: random.Random, outcome: Outcome, folder: Path) -> None:
    names = []
    for k in range(3):
        name = f"f{k}.fits"
        good = {**CARDS, "CRVAL1": f"{41 + 30 * k}.0", "DATE-OBS": f"'2026-12-05T20:{25 + k}:00'"}
        (folder / name).write_bytes(fits_bytes(good))
        names.append(name)
    spoilt = rng.randrange(3)
    (folder / names[spoilt]).write_bytes(fits_mutant(rng))
    tell(outcome, ["check", "frames", *names, *AT], folder, ("axletree-axis.jsonl",), True)


@cache
def _export() -> Any:
    """A logbook's export, and what stands beside it."""
    from axletree.kit.kit import demo_kit, demo_text
    from axletree.logbook.exchange import export_json
    from axletree.logbook.store import Logbook, LoggedStop

    at = datetime(2026, 12, 5, 19, 30, tzinfo=UTC)
    with tempfile.TemporaryDirectory() as place, Logbook(Path(place) / "a.sqlite") as book:
        for day in (4, 5):
            evening = book.begin_evening(
                date(2026, 12, day), demo_kit(), demo_text(), at.replace(day=day)
            )
            book.add_stop(evening, LoggedStop(at, "M31", "NGC 224", visitors=12, note="dust lanes"))
            book.add_stop(evening, LoggedStop(at, "M57", "NGC 6720", done=False))
            book.add_note(evening, at, "clouds from the west")
            book.add_conditions(evening, at, seeing_arcsec=2.5, words="steady")
            book.add_axis_measure(evening, at, "drift", 4.0, -2.0, ((0.25, 0.1), (0.1, 0.5)))
            book.add_bolt_turn(evening, at, -0.5, 0.25, "a little")
        return json.loads(export_json(book))


NOTES = [
    {"kind": "axis measured", "method": "drift", "at": "2026-12-05T20:10:00+00:00",
     "source": "stars.csv", "key": "abc", "latitude_deg": 38.5712, "longitude_deg": -7.9093,
     "pole_altitude_deg": 38.59, "high_arcmin": 4.0, "east_arcmin": -3.0,
     "information_per_arcmin2": [[4.0, 0.1], [0.1, 3.0]]},
    {"kind": "bolts turned", "at": "2026-12-05T20:12:00+00:00", "latitude_deg": 38.5712,
     "longitude_deg": -7.9093, "altitude_turns": 0.5, "azimuth_turns": 0.0},
    {"kind": "axis measured", "method": "frames", "at": "2026-12-05T20:20:00+00:00",
     "source": "a.fits", "key": "abd", "latitude_deg": 38.5712, "longitude_deg": -7.9093,
     "pole_altitude_deg": 38.59, "high_arcmin": 1.0, "east_arcmin": -3.0,
     "information_per_arcmin2": [[4.0, 0.1], [0.1, 3.0]]},
]  # fmt: skip
AFTERWARDS = (
    ("log", "--logbook", "b.sqlite"), ("log", "show", "1", "--logbook", "b.sqlite"),
    ("log", "search", "M31 cloud", "--logbook", "b.sqlite"),
    ("log", "bolts", "--json", "--logbook", "b.sqlite"),
    ("log", "export", "c.json", "--logbook", "b.sqlite"),
    ("log", "export", "csv", "--logbook", "b.sqlite"),
)  # fmt: skip


def _record(rng: random.Random, outcome: Outcome, folder: Path) -> None:
    what = rng.random()
    if what < 0.6:
        (folder / "a.json").write_bytes(json_mutant(rng, _export()))
        words = ["log", "import", "a.json", "--logbook", "b.sqlite"]
        status, _ = tell(outcome, words, folder, ("b.sqlite",), must_name=True)
        if status == 0:
            for words_after in rng.sample(AFTERWARDS, 2):
                tell(outcome, words_after, folder, ("b.sqlite", "c.json", "csv/"))
            outcome.status = status
    elif what < 0.9:
        lines = [json.dumps(note) for note in NOTES]
        if rng.random() < 0.5:
            data = text_mutant(rng, "\n".join(lines) + "\n")
        else:
            at = rng.randrange(len(lines))
            lines[at] = json_mutant(rng, NOTES[at]).decode(errors="replace").replace("\n", " ")
            data = ("\n".join(lines) + "\n").encode(errors="replace")
        (folder / "axletree-axis.jsonl").write_bytes(data)
        tell(outcome, ["check", *AT, *rng.choice(((), ("--json",)))], folder)
    else:
        (folder / "a.json").write_text(json.dumps(_export()), encoding="utf-8")
        run(["log", "import", "a.json", "--logbook", "b.sqlite"])
        book = folder / "b.sqlite"
        data = book.read_bytes()
        data = flipped(rng, data) if rng.random() < 0.6 else data[: rng.randrange(len(data))]
        book.write_bytes(data)
        made = ("b.sqlite", "b.damaged", "c.json", "csv/")
        tell(outcome, rng.choice(AFTERWARDS), folder, made)
        held = [*folder.glob("b.damaged-*.sqlite"), book]
        # Bytes that SQLite itself can't read are kept, never written over.
        if not any(p.read_bytes()[:100] == data[:100] or not data for p in held):
            outcome.wrong.append("the damaged logbook was written over")


@cache
def _planned() -> Any:
    """A short evening's run sheet."""
    from axletree.evening.sheet.plan import EveningRequest, plan_evening
    from axletree.kit.kit import demo_kit
    from axletree.sky.observer import observer_of
    from axletree.tell.evening.data import evening_document
    from axletree.tell.evening.document import evening_json

    kit = demo_kit()
    kit = kit.model_copy(update={"habits": kit.habits.model_copy(update={"hours": 0.8})})
    made = evening_document(
        plan_evening(
            kit,
            observer_of(kit.site),
            EveningRequest(
                date(2026, 12, 5), made_at=datetime(2026, 12, 1, tzinfo=UTC), effort="quick"
            ),
        )
    )
    return json.loads(evening_json(made))


def _sheet(rng: random.Random, outcome: Outcome, folder: Path) -> None:
    (folder / "a.json").write_bytes(json_mutant(rng, _planned()))
    words = ["evening", "--go-on", "a.json", "--at", "2026-12-05T18:30", "--logbook", "none"]
    tell(outcome, words, folder, must_name=True)


@contextlib.contextmanager
def _own_folder() -> Any:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(os.path.realpath(place))
        before, home = Path.cwd(), os.environ.get("XDG_DATA_HOME")
        os.chdir(folder)
        os.environ["XDG_DATA_HOME"] = str(folder)
        try:
            yield folder
        finally:
            os.chdir(before)
            if home is None:
                del os.environ["XDG_DATA_HOME"]
            else:
                os.environ["XDG_DATA_HOME"] = home


def trouble(kind: str, numbers: Sequence[int]) -> list[Outcome]:
    """Many mutants of a kind, each in a folder of its own."""
    found = []
    for k in numbers:
        with _own_folder() as folder:
            found.append(suffer(kind, k, folder))
    return found


def main() -> int:
    """Run through many and print figures; exit status 1 when anything is wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--kinds", default=",".join(KINDS))
    parser.add_argument("--whole", action="store_true", help="print whole tracebacks")
    asked = parser.parse_args()
    bad = 0
    for kind in asked.kinds.split(","):
        begun, statuses, seen = time.perf_counter(), Counter[int | None](), Counter[str]()
        for k in range(asked.first, asked.first + asked.count):
            (outcome,) = trouble(kind, [k])
            statuses[outcome.status] += 1
            bad += bool(outcome.wrong)
            for words in outcome.wrong:
                line = words.splitlines()[0]
                seen[line[:60]] += 1
                if seen[line[:60]] <= 3:
                    print(f"{kind} {k}: {words if asked.whole else line}", flush=True)
        took = time.perf_counter() - begun
        print(f"{kind}: {asked.count} in {took:.0f} s, "
              + ", ".join(f"{n} with status {s}" for s, n in sorted(statuses.items(), key=str)),
              flush=True)  # fmt: skip
    print(f"{bad} with anything wrong")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
