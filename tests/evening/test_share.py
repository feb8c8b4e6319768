"""Several telescopes of one event: neighbours show different things, each what suits it."""

from __future__ import annotations

import itertools
import json
import re
from collections import Counter
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import linprog

from axletree.cli import main
from axletree.evening.event.allotment import UNFAIR_POINTS, HereBecause, _flow
from axletree.evening.event.share import Berth, Event, labels_of, refuse_berths, share_evening
from axletree.evening.given_up import GivenUpReason
from axletree.evening.search import quick
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import Kit, check_text, demo_kit, demo_text
from axletree.sky.observer import observer_of
from axletree.tell.evening.document import read_evening
from axletree.tell.evening.event.data import event_data
from axletree.tell.evening.event.text import event_text
from axletree.tell.stop.text import why_here_words

MADE_AT = datetime(2026, 12, 5, 12, tzinfo=UTC)
DAY = date(2026, 12, 5)


def neighbour(*, name: str = "Second spot", aperture_mm: int = 80, **habits: object) -> Kit:
    """The paddock's refractor carried to the courtyard, on a spot with an open skyline."""
    here, rig = demo_text(), demo_text("paddock")
    site = here[here.index("[site]") : here.index("[site.skyline]")]
    text = rig[: rig.index("[site]")] + site + rig[rig.index("[mount]") :]
    text = text.replace('"Farm paddock"', f'"{name}"')
    text = text.replace('"80 mm refractor"', f'"{aperture_mm} mm refractor"')
    text = text.replace("aperture_mm = 80", f"aperture_mm = {aperture_mm}")
    kit, problems = check_text(text)
    assert kit is not None, problems
    plan = {"bedtime": demo_kit().habits.bedtime, "hours": 2.0, "visitors": 12, **habits}
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=plan)})


def courtyard(**habits: object) -> Kit:
    kit = demo_kit()
    plan = {"hours": 2.0, **habits}
    return kit.model_copy(update={"habits": kit.habits.model_copy(update=plan)})


def shared(*kits: Kit) -> Event:
    return share_evening([Berth(k, observer_of(k.site)) for k in kits], DAY, made_at=MADE_AT)


def overlapping(event: Event) -> list[tuple[str, str]]:
    """Pairs of stops at which two telescopes show the same object at the same time."""
    return [
        (a.name, event.labels[b.rig])
        for a, b in itertools.combinations(event.slots, 2)
        if a.key == b.key and a.rig != b.rig and a.begin < b.end and b.begin < a.end
    ]


@pytest.fixture(scope="module")
def event() -> Event:
    return shared(courtyard(), neighbour())


def test_neighbours_never_show_the_same_at_the_same_time(event: Event) -> None:
    assert overlapping(event) == []
    by_rig = [[s for s in event.slots if s.rig == k] for k in range(2)]
    assert all(len(slots) >= 5 for slots in by_rig)
    keys = [{s.key for s in slots} for slots in by_rig]
    assert len(keys[0] & keys[1]) <= 1  # hardly anything is shown twice


def test_the_slots_are_the_evenings_own_stops(event: Event) -> None:
    for k, planned in enumerate(event.planned):
        mine = [s for s in event.slots if s.rig == k]
        stops = planned.evening.stops
        assert [s.key for s in mine] == [s.catalogue_id for s in stops]
        for slot, stop in zip(mine, stops, strict=True):
            assert slot.begin == stop.begin
            assert slot.end == stop.end
            ends = stop.chosen.room_ends
            assert ends is None or ends >= stop.end


@pytest.mark.usefixtures("afresh")
def test_the_same_input_gives_the_same_event(event: Event) -> None:
    quick.solve_quickly.cache_clear()
    again = shared(courtyard(), neighbour())
    assert event_data(again) == event_data(event)


def test_what_suits_goes_where_it_suits(event: Event) -> None:
    """Common practice, no source: planets and close pairs want aperture. Of the two telescopes the
    one of 150 mm shows Saturn, and no reason claims a finer picture for the one of 80 mm."""
    saturn = [s for s in event.slots if s.name == "Saturn"]
    assert [s.rig for s in saturn] == [0]
    finer = HereBecause.MORE_APERTURE
    assert all(s.why_here.because is not finer for s in event.slots if s.rig == 1)
    assert all(why_here_words(s.why_here, event.labels) for s in event.slots)


def test_both_get_good_ones(event: Event) -> None:
    """No telescope is left with what the other did not want: means within 12 points."""
    means = []
    for k, planned in enumerate(event.planned):
        assert planned.task is not None
        value = {w.key: w.value for w in planned.task.targets}
        mine = [value[s.key] for s in event.slots if s.rig == k]
        means.append(sum(mine) / len(mine))
    assert abs(means[0] - means[1]) < 12.0


def test_twins_keep_their_promises_at_different_times() -> None:
    """Two telescopes of one kind, both promising the same: alone both would show it at once."""
    promised = ("M31", "M45", "Saturn", "Almach")
    kit = courtyard(must_see=promised, hours=2.0)
    twin = kit.model_copy(update={"name": "Twin"})
    event = shared(kit, twin)
    shown = [(s.rig, s.name) for s in event.slots]
    assert {(k, name) for k in (0, 1) for name in promised} <= set(shown)
    assert overlapping(event) == []
    assert all(
        s.why_here.because is HereBecause.PROMISED for s in event.slots if s.name in promised
    )
    assert all(s.promised for p in event.planned for s in p.evening.stops if s.name in promised)


def test_three_telescopes_and_what_the_neighbours_show() -> None:
    event = shared(
        courtyard(hours=1.0), neighbour(hours=1.0),
        neighbour(name="Third", aperture_mm=100, hours=1.0),
    )  # fmt: skip
    assert overlapping(event) == []
    assert len(event.labels) == len(set(event.labels)) == 3
    reasons = [g.reason for p in event.planned for g in p.evening.given_up]
    assert GivenUpReason.ELSEWHERE in reasons


def test_four_telescopes_are_told_by_letters() -> None:
    event = shared(*(neighbour(name=f"Telescope {k}", hours=1.0) for k in range(4)))
    text = event_text(event)
    rows = text.splitlines()
    assert max(map(len, rows)) <= 80
    for letter, label in zip("ABCD", event.labels, strict=True):
        assert f"  {letter}  {label}" in rows
    told = [row.split(maxsplit=2)[1:] for row in rows if row[2:4].isdigit() and row[4] == ":"]
    assert told == [["ABCD"[slot.rig], slot.name] for slot in event.slots]
    assert {letter for letter, _ in told} == set("ABCD")


def test_a_session_too_short_for_a_stop_is_not_called_light() -> None:
    """Six minutes from the axis set on: no telescope's stop fits, though night comes."""
    event = shared(courtyard(hours=0.1), neighbour(hours=0.1))
    assert event.slots == ()
    text = " ".join(event_text(event).split())
    assert "not dark" not in text
    for label, planned in zip(event.labels, event.planned, strict=True):
        assert planned.session is not None
        assert f"{label} shows nothing: " in text


def test_text_and_data(event: Event) -> None:
    text = event_text(event)
    assert max(map(len, text.splitlines())) <= 80
    assert text.splitlines()[0].startswith("2 telescopes, ")
    data = json.loads(json.dumps(event_data(event), allow_nan=False))
    assert len(data["table"]) == len(event.slots)
    for raw in data["evenings"]:
        assert read_evening(json.dumps(raw)).date == DAY


def test_a_night_without_stars_is_said() -> None:
    place = {"latitude_deg": 69.65, "longitude_deg": 18.96, "time_zone": "Europe/Oslo"}
    kits = [k.model_copy(update={"site": k.site.model_copy(update=place)})
            for k in (courtyard(), neighbour())]  # fmt: skip
    event = share_evening(
        [Berth(k, observer_of(k.site)) for k in kits], date(2026, 6, 21), made_at=MADE_AT
    )
    assert event.slots == ()
    assert "not dark" in event_text(event)


def test_labels_tell_telescopes_apart() -> None:
    kit, other = courtyard(), neighbour()
    assert labels_of([kit, other]) == (kit.tube.name, other.tube.name)
    assert labels_of([other, neighbour(name="B")]) == ("Second spot", "B")
    assert len(set(labels_of([kit, kit, kit]))) == 3


def test_the_flow_finds_the_best_sharing() -> None:
    """Against trying every sharing of five objects between two telescopes, ranks left aside
    (each has room for two, and every rank holds four objects)."""
    worth = {
        ("a", 0): 90.0, ("a", 1): 80.0, ("b", 0): 70.0, ("b", 1): 69.0, ("c", 0): 60.0,
        ("c", 1): 40.0, ("d", 1): 50.0, ("e", 0): 55.0, ("e", 1): 65.0,
    }  # fmt: skip
    best = max(
        sum(worth[k, i] for k, i in zip("abcde", choice, strict=True) if i is not None)
        for choice in itertools.product((0, 1, None), repeat=5)
        if choice.count(0) <= 2 and choice.count(1) <= 2
        and all(i is None or (k, i) in worth for k, i in zip("abcde", choice, strict=True))
    )  # fmt: skip
    owner = _flow(worth, [2, 2])
    assert sum(worth[k, i] for k, i in owner.items()) == pytest.approx(best)
    assert _flow({}, [2, 2]) == {}
    assert _flow(worth, [0, 0]) == {}


@pytest.mark.parametrize("seed", range(8))
def test_the_flow_is_the_optimum_of_the_whole_task(seed: int) -> None:
    """Against the linear program of the same task, ranks and rooms in it, solved by scipy (HiGHS).

    As many objects as fit are shared out; of all such sharings this one is worth most. The program
    has a column for each object and telescope, and one for what a telescope has beyond its fair
    part of a rank.
    """
    random = np.random.default_rng(seed)
    rigs, count = int(random.integers(2, 6)), int(random.integers(6, 40))
    places = [(k, i) for k in range(count) for i in range(rigs) if random.random() < 0.7]
    worth = {(f"o{k:02d}", i): float(random.integers(-500, 9000)) / 100 for k, i in places}
    room = [int(random.integers(0, 9)) for _ in range(rigs)]
    best = {key: max(v for (k, _), v in worth.items() if k == key) for key, _ in worth}
    ranked = sorted(best, key=lambda key: (-max(best[key], 0.0), key))
    rank = {key: n // (2 * rigs) for n, key in enumerate(ranked)}
    tiers = [(i, r) for i in range(rigs) for r in sorted(set(rank.values()))]
    columns = list(worth)
    gain = np.array([*worth.values(), *[-UNFAIR_POINTS] * len(tiers)])
    once = [[float(k == key) for k, _ in columns] + [0.0] * len(tiers) for key in ranked]
    fits = [[float(i == rig) for _, i in columns] + [0.0] * len(tiers) for rig in range(rigs)]
    fair = [
        [float((i, rank[k]) == tier) for k, i in columns] + [-float(t == tier) for t in tiers]
        for tier in tiers
    ]
    limits = [1.0] * len(ranked) + [float(n) for n in room] + [2.0] * len(tiers)
    bounds = [(0, 1)] * len(columns) + [(0, None)] * len(tiers)
    shared = [1.0] * len(columns) + [0.0] * len(tiers)
    most = linprog(-np.array(shared), A_ub=once + fits + fair, b_ub=limits, bounds=bounds)
    found = linprog(
        -gain, A_ub=once + fits + fair, b_ub=limits, A_eq=[shared], b_eq=[-most.fun], bounds=bounds
    )
    owner = _flow(worth, room)
    assert len(owner) == round(-most.fun) > 0
    beyond = Counter((i, rank[key]) for key, i in owner.items())
    unfair = sum(max(0, n - 2) for n in beyond.values())
    points = sum(worth[place] for place in owner.items()) - UNFAIR_POINTS * unfair
    assert points == pytest.approx(-found.fun, abs=1e-6)
    assert all(sum(i == rig for i in owner.values()) <= room[rig] for rig in range(rigs))


def test_kits_that_make_no_event_are_refused() -> None:
    far, near = demo_kit("paddock"), demo_kit()
    with pytest.raises(AxletreeError, match="km apart"):
        refuse_berths([Berth(near, observer_of(near.site)), Berth(far, observer_of(far.site))])
    with pytest.raises(AxletreeError, match="from 2 to"):
        refuse_berths([Berth(near, observer_of(near.site))])
    other = near.model_copy(
        update={"site": near.site.model_copy(update={"time_zone": "Europe/Madrid"})}
    )
    with pytest.raises(AxletreeError, match="keep one time"):
        refuse_berths([Berth(near, observer_of(near.site)), Berth(other, observer_of(other.site))])


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["courtyard", "paddock"], "km apart"),
        (["courtyard", "nowhere.toml"], "no such file"),
        (["courtyard", "--kit", "paddock"], "not both ways"),
        (["courtyard", "courtyard", "--calendar", "x.ics"], "is for one kit"),
        (["courtyard", "courtyard", "--go-on", "x.json"], "is for one kit"),
        (["courtyard", "courtyard", "--own", "x.csv"], "is for one kit"),
        (["courtyard", "courtyard", "--take-time"], "is for one kit"),
    ],
)
def test_bad_input_gets_one_line(
    words: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["evening", *words, "--logbook", "none", "--date", "2026-12-05"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert says in err


def test_the_command_writes_every_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    # An hour of showing: what is written is the same, and is had sooner.
    here, rig = (
        re.sub(r"(?m)^hours = .*", "hours = 1.0", demo_text(n)) for n in ("courtyard", "paddock")
    )
    assert here.count("hours = 1.0") == rig.count("hours = 1.0") == 1
    first.write_text(here)
    site = here[here.index("[site]") : here.index("[mount]")]
    second.write_text(rig[: rig.index("[site]")] + site + rig[rig.index("[mount]") :])
    words = ["evening", str(first), str(second), "--date", "2026-12-05", "--logbook", "none"]
    assert main([*words, "--out", str(tmp_path / "out"), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["format"] == "axletree event"
    files = [p.as_posix() for p in (tmp_path / "out").rglob("*.*")]
    made = [f for f in files if f.endswith("run-sheet.pdf")]
    assert len(made) == 2
    assert (tmp_path / "out" / "event.txt").read_text().startswith("2 telescopes")
