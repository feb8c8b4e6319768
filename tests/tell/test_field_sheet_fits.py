"""No word of the phone's sheet is cut, broken, over another or too small, on four screens.

With our typeface in one hemisphere and a wide one in the other; names are long but real.
AXLETREE_LONG=1 looks at each sheet in each typeface.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from browsers import opened
from nights import found_of, in_stop, kit_of
from playwright.sync_api import Browser

from axletree.evening.sheet.tables import night_tables
from axletree.kit.kit import demo_text
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.field_sheet import field_sheet as module
from words_fit import misfits_on_all_screens, wider_faces

pytestmark = pytest.mark.browser
LEAVES = ("now", "order", "pole", "notes", "sheet")
# A place and a tube with long names.
PLACES = {
    "courtyard": "Courtyard of the municipal school at Vila Nova de São Bento",
    "paddock": "Farm paddock on the long road from Lake Tekapo to Takapō",
}
TUBE = "second-hand 150 mm f/5 Newtonian, new mirror"
# A planet, whose field has a second disc in its corner; a name in Greek.
STOPS = {"courtyard": 8, "paddock": 5}
CASES = [("courtyard", "wide"), ("paddock", "ours")]
if os.environ.get("AXLETREE_LONG"):
    CASES += [("courtyard", "ours"), ("paddock", "wide")]


def sheet_with_long_names(name: str) -> bytes:
    assert kit_of(name).site.name != PLACES[name]
    planned = found_of(name)
    assert planned.evening.stops[0].finding is not None
    evening = evening_document(planned.evening)
    evening = evening.model_copy(
        update={
            "place": evening.place.model_copy(update={"name": PLACES[name]}),
            "rig": evening.rig.model_copy(update={"tube": TUBE}),
        }
    )
    kit = kit_of(name)
    return module.field_sheet(evening, night_tables(kit, observer_of(kit.site), planned),
                              planned.ground.table, kit_toml=demo_text(name))  # fmt: skip


@pytest.mark.parametrize(("name", "typeface"), CASES)
def test_words_of_the_field_sheet_fit(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, typeface: str
) -> None:
    if typeface == "wide":
        monkeypatch.setattr(module, "whole_faces", wider_faces)
    file = tmp_path / "sheet.html"
    file.write_bytes(sheet_with_long_names(name))
    found = []
    with opened(
        browser, file, in_stop(found_of(name), min(STOPS[name], len(found_of(name).evening.stops)))
    ) as sheet:
        faces = "[...document.fonts].filter(f => f.status === 'loaded').length"
        assert sheet.soon(faces) >= 2
        for leaf in LEAVES:
            sheet.leaf(leaf)
            assert len(sheet.words()) > 100
            found += [f"{leaf} at {line}" for line in misfits_on_all_screens(sheet.page)]
    assert found == []
