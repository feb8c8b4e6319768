"""One rule says when to stop setting the axis, and every surface says it in the same sentence."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime

import pytest

from axletree.cli import main
from axletree.evening.sheet.plan import EveningRequest, plan_evening
from axletree.kit.kit import demo_kit
from axletree.pole.enough.of_kit import good_enough
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.paper.pocket import pocket_of
from axletree.tell.shared.text import stop_words

AT = "2026-12-05T20:00"


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_one_figure_and_one_sentence(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    kit = demo_kit(name)
    figure = good_enough(kit).largest_arcmin
    words = stop_words(figure)
    for command in ("enough", "pole"):
        assert main([command, "--kit", name, "--at", AT]) == 0
        assert words in " ".join(capsys.readouterr().out.split())
        assert main([command, "--kit", name, "--at", AT, "--json"]) == 0
        assert json.loads(capsys.readouterr().out)["stop_arcmin"] == pytest.approx(figure)
    request = EveningRequest(date(2026, 12, 5), made_at=datetime(2026, 12, 1, tzinfo=UTC))
    document = evening_document(plan_evening(kit, observer_of(kit.site), request))
    assert words in " ".join(evening_text(document).split())
    assert any(words in stage["answer"] for stage in pocket_of(document)["stages"])
