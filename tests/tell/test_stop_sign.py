"""A mount that carries more than its maker allows: said before all else, wherever the evening is.

The load by hand: the parts on the saddle, added up from the kit.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

from axletree.evening.sheet.plan import EveningRequest, plan_whole
from axletree.kit.kit import Kit, demo_kit
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.text import evening_text
from axletree.tell.field_sheet.text import field_words
from axletree.tell.paper.pocket import pocket_of
from axletree.tell.paper.text import sheet_of

DAY, MADE_AT = date(2026, 12, 5), datetime(2026, 12, 5, 12, tzinfo=UTC)


def kit_for(limit_kg: float) -> Kit:
    kit = demo_kit("courtyard")
    return kit.model_copy(
        update={"mount": kit.mount.model_copy(update={"payload_limit_kg": limit_kg})}
    )


def test_it_stands_at_the_head_of_every_sheet() -> None:
    kit = kit_for(5.0)
    request = EveningRequest(DAY, made_at=MADE_AT, effort="quick")
    evening = evening_document(plan_whole(kit, observer_of(kit.site), request).evening)
    eyepiece = sorted(e.mass_kg for e in kit.eyepieces)[1]
    carried = kit.tube.mass_kg + kit.tube.finder.mass_kg + eyepiece
    said = (
        f"Stop: the mount carries {carried:.1f} kg, more than its 5.0 kg. Put less on it before "
        "you set it up."
    )
    assert evening.stop_sign == said
    lines = evening_text(evening).splitlines()
    assert " ".join(lines[2:4]).startswith(said)
    assert sheet_of(evening)["stop_sign"] == said
    assert pocket_of(evening)["stop_sign"] == said
    assert field_words(evening)["dark"].startswith(said)


def test_it_is_on_no_sheet_where_the_mount_bears_it() -> None:
    kit = kit_for(9.0)
    request = EveningRequest(DAY, made_at=MADE_AT, effort="quick")
    evening = evening_document(plan_whole(kit, observer_of(kit.site), request).evening)
    assert evening.stop_sign == ""
    assert pocket_of(evening)["night"].startswith("Sun sets")
