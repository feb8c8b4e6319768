"""What is measured lets stops in again: as told beforehand, and as planned with it measured."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from axletree import cli
from axletree.evening.given_up import GivenUpReason
from axletree.evening.sheet.answer import EveningAnswer
from axletree.kit.kit import demo_kit, load_kit
from axletree.kit.parts.dimension import read_off_sigma
from axletree.mount.dimensions.names import key_of
from axletree.mount.dimensions.of_kit import dimensions_of
from axletree.stages.night.evening import EveningRequest, evening
from axletree.tell.evening.data import evening_document

DAY, MADE_AT = date(2026, 12, 5), datetime(2026, 1, 1, tzinfo=UTC)


def planned(file: Path) -> EveningAnswer:
    return evening(load_kit(file), EveningRequest(day=DAY, made_at=MADE_AT))


def may_touch(answer: EveningAnswer) -> set[str]:
    return {left.name for left in answer.given_up if left.reason is GivenUpReason.MAY_TOUCH}


def test_what_is_told_to_bring_stops_back_does(tmp_path: Path) -> None:
    """A kit of few words loses stops; with the dimensions written into it, these no longer may
    touch too probably: rigs drawn anew from what the kit then says, not narrowed in thought."""
    file = tmp_path / "few.toml"
    assert cli.main(["kit", "new", str(file), "--place", "Évora", "--aperture", "150",
                     "--focal-length", "750"]) == 0  # fmt: skip
    before = planned(file)
    back = before.brings_back
    assert back is not None
    assert len(may_touch(before)) >= 2
    assert set(back.objects) <= may_touch(before)
    assert 1 <= len(back.dimensions) <= 3
    assert all(
        left.touch_chance > 0.0
        for left in before.given_up
        if left.reason is GivenUpReason.MAY_TOUCH
    )
    told_of = evening_document(before).brings_back
    assert told_of is not None
    assert (told_of["keys"], told_of["objects"]) == (list(back.dimensions), list(back.objects))
    assert told_of["words"] in evening_document(before).notes
    known = dimensions_of(before.kit)
    for name in back.dimensions:
        value = float(known.values[known.index(name)])
        told = f"{name}={value:.6g} ± {read_off_sigma(key_of(name), value):.4g}"
        assert cli.main(["kit", "measure", str(file), "--set", told]) == 0
    after = planned(file)
    assert not set(back.objects) & may_touch(after)
    shown = {stop.name for stop in after.stops}
    assert shown & set(back.objects), "none of them is worth its stop"


def test_nothing_is_told_where_nothing_is_lost() -> None:
    answer = evening(demo_kit("courtyard"), EveningRequest(day=DAY, made_at=MADE_AT))
    assert may_touch(answer) == set()
    assert answer.brings_back is None
