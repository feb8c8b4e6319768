"""A sample of the crowd (`crowd.py`), eighteen seconds of fifty pages; a flood (`flood.py`)."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from crowd import during, gather, missing, parts_ms, served, served_process
from flood import SOON_S, STOPPED_S, flood

from apart import run_apart

PAGES = 50
# Other tests run beside this one, on a machine that may be three times slower than another: the
# figures of a calm machine come from `make long`. Who waits for a plan's end waits longer.
PATIENCE_MS = 6000.0


def test_fifty_pages_are_answered_while_the_night_is_planned_again(tmp_path: Path) -> None:
    with served(tmp_path) as (url, process):
        crowd = gather(url, process, pages=PAGES, seconds=18.0, every_s=1.0, seed=2)
        heard = run_apart(crowd)
    assert not heard.wrong, heard.wrong[:5]
    assert heard.most_links == PAGES
    assert heard.changes
    assert heard.events > PAGES * len(heard.changes) / 2  # everybody who looks hears of it
    then = during(heard.answers, heard.changes)
    assert 0.0 < parts_ms(then)[0] < PATIENCE_MS, parts_ms(then)


def test_what_a_crowd_must_not_meet_is_told(tmp_path: Path) -> None:
    from crowd import Heard

    heard = Heard(memory_mb=[(float(s), 200.0 + s) for s in range(100)], most_links=50)
    heard.changes = [("again", 0.0, 100.0)]
    heard.answers = [("pole", float(s), s + (0.2 if s % 10 == 0 else 0.01)) for s in range(100)]
    heard.wrong = ["pole: 500"]
    _, *slow, grown = missing(heard, 50)
    assert len(slow) == 4  # 95 and 99 in a hundred, of all and of those while a replan ran
    assert all("took up to 200.0 ms" in words for words in slow)
    assert "grew from 224 to 294 MB" in grown


def test_three_who_ask_without_end_keep_no_leader_waiting_and_the_app_ends(tmp_path: Path) -> None:
    with served_process(tmp_path) as (url, running):
        met = run_apart(flood(url, running, seconds=3.0, lookers=3))
    assert set(met.told) <= {200, 429}
    assert met.told[200] > 5  # they are answered, too
    assert np.median(met.flooded_s) < SOON_S
    assert met.stopped_s < 3.0 * STOPPED_S  # beside other tests
