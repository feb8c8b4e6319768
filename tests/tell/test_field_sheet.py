"""The phone's sheet as a file: one piece, small, closed to everything, true to the evening."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import zlib
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from nights import HOSTILE, MADE_AT, hostile_sheet, kit_of, planned_of, sheet_of, tables_of

from axletree.cli import main
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import demo_text
from axletree.sky.observer import observer_of
from axletree.tell.evening.data import evening_document
from axletree.tell.evening.document import Evening
from axletree.tell.field_sheet import field_sheet as maker
from axletree.tell.field_sheet.field_sheet import field_sheet, sheet_uid


class Elements(HTMLParser):
    """Every element with its attributes, and the text of scripts and styles."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.inside: dict[int, str] = {}
        self.words: list[str] = []
        self._raw = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        self._raw = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        self._raw = False

    def handle_data(self, data: str) -> None:
        if self._raw:
            at = len(self.found) - 1
            self.inside[at] = self.inside.get(at, "") + data
        else:
            self.words.append(data)

    def texts(self, tag: str) -> list[tuple[dict[str, str | None], str]]:
        return [
            (given, self.inside.get(i, ""))
            for i, (name, given) in enumerate(self.found)
            if name == tag
        ]


def data_of(content: bytes) -> dict[str, Any]:
    text = content.decode()
    match = re.search(r'<script type="application/json" id="data">([A-Za-z0-9+/=]+)</script>', text)
    assert match
    found: dict[str, Any] = json.loads(zlib.decompress(base64.b64decode(match[1]), -15))
    return found


@pytest.mark.parametrize("name", ["courtyard", "paddock"])
def test_it_is_one_small_file_that_refers_to_nothing(name: str) -> None:
    content = sheet_of(name)
    assert len(content) < 400_000
    elements = Elements(content.decode())
    for tag, given in elements.found:
        for attribute in ("src", "href", "action", "data", "poster", "srcset", "style"):
            if attribute in given:
                assert (tag, given[attribute]) == ("link", "data:,")
        assert not any(key.startswith("on") for key in given), (tag, given)
    # In style and scripts: no address but the data: ones of the modules.
    whole = unquote(content.decode())
    assert set(re.findall(r"\w+://[\w./-]+", whole)) == {"http://www.w3.org/2000/svg"}
    assert not re.search(r"@import|url\((?!\"data:font/woff2;base64,)", whole)
    for word in ("fetch(", "XMLHttpRequest", "sendBeacon", "WebSocket", "EventSource", "eval(",
                 "innerHTML", "outerHTML", "insertAdjacentHTML", "document.write"):  # fmt: skip
        assert word not in whole, word


def test_the_policy_lets_only_this_files_scripts_and_style_in() -> None:
    elements = Elements(sheet_of("courtyard").decode())
    (policy,) = [given["content"] for tag, given in elements.found
                 if given.get("http-equiv") == "Content-Security-Policy"]  # fmt: skip
    assert policy is not None
    rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split("; ")}
    assert rules["default-src"] == ["'none'"]
    assert rules["base-uri"] == rules["form-action"] == ["'none'"]
    ((nonce,),) = (rules["script-src"],)
    number = re.fullmatch(r"'nonce-([0-9a-f]{32})'", nonce)
    assert number
    scripts = elements.texts("script")
    assert {(g.get("type"), g.get("nonce")) for g, _ in scripts} == {
        ("importmap", number[1]), ("module", number[1]), ("application/json", None)
    }  # fmt: skip
    ((_, style),) = elements.texts("style")
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert rules["style-src"] == [f"'sha256-{digest}'"]
    assert "unsafe" not in policy


def test_the_modules_find_each_other_and_nothing_else() -> None:
    ((text,),) = [
        [t for g, t in Elements(sheet_of("courtyard").decode()).texts("script")
         if g.get("type") == "importmap"]
    ]  # fmt: skip
    modules = json.loads(text)["imports"]
    wanted = {"axletree/field.js"}
    comment = r"^\s*//.*$|^\s*/\*\*(?s:.*?)\*/[ ]*$"
    for name, address in modules.items():
        code = unquote(address.partition(",")[2])
        source = maker.HERE / name.partition("/")[2]
        if not source.is_file():
            words = "/words/" in name
            source = (maker.SHARED_FROM.parent if words else maker.SHARED_FROM) / (
                name.removeprefix("axletree/")
            )
        plain = lambda t: re.sub(r"\s+", " ", re.sub(comment, "", t, flags=re.M)).strip()  # noqa: E731
        local = plain(code).replace("axletree/words/", "../words/").replace("axletree/", "./")
        assert local == plain(source.read_text())
        wanted |= set(re.findall(r'(?:from|import) "([^"]+)"', code))
    assert wanted == set(modules)
    assert not {"axletree/page.js", "axletree/link.js"} & set(modules)


def test_it_carries_the_evening_as_it_is() -> None:
    planned = planned_of("courtyard")
    data = data_of(sheet_of("courtyard"))
    assert Evening.model_validate(data["evening"]) == evening_document(planned.evening)
    assert data["uid"] == sheet_uid(evening_document(planned.evening))
    assert data["kit_toml"] == demo_text("courtyard")
    keys = [o["key"] for o in data["tables"]["objects"]]
    stops = [s.catalogue_id for s in planned.evening.stops]
    assert keys[: len(stops)] == stops
    assert keys[len(stops) :] == [s["catalogue_id"] for s in data["spares"]]
    assert {s["name"] for s in data["spares"]} <= {g.name for g in planned.evening.given_up}


def test_where_no_script_runs_the_whole_evening_stands_there_in_words() -> None:
    evening = evening_document(planned_of("courtyard").evening)
    text = " ".join(" ".join(Elements(sheet_of("courtyard").decode()).words).split())
    for stage in evening.stages:
        assert stage.answer in text
        assert all(c in text for c in stage.cautions)
    for stop in evening.stops:
        assert stop.name in text
        assert f"Tube {stop.chosen.side};" in text
        assert stop.chosen.ends_by in text
        assert all(c in text for c in (*stop.turn_warnings, *stop.cautions))
    assert all(c in text for c in evening.cautions)
    assert "Not for navigation." in text


def test_names_and_notes_never_become_markup() -> None:
    plain, hostile = (Elements(c.decode()) for c in (sheet_of("courtyard"), hostile_sheet()))

    def shape(elements: Elements) -> list[tuple[str, tuple[str, ...]]]:
        return [(tag, tuple(sorted(given))) for tag, given in elements.found]

    assert shape(hostile) == shape(plain)
    assert " ".join(hostile.words).count(HOSTILE) > 40
    data = data_of(hostile_sheet())
    assert data["evening"]["stops"][0]["name"] == f"{HOSTILE} 1"
    assert data["kit_toml"] == HOSTILE


def test_the_same_evening_makes_the_same_file_and_another_another_number() -> None:
    planned, tables = planned_of("courtyard"), tables_of("courtyard")
    again = field_sheet(evening_document(planned.evening), tables, planned.ground.table,
                        kit_toml=demo_text("courtyard"))  # fmt: skip
    assert again == sheet_of("courtyard")
    nonce = re.compile(rb"nonce-([0-9a-f]{32})")
    first, other = nonce.search(again), nonce.search(hostile_sheet())
    assert first
    assert other
    assert first[1] != other[1]


def test_a_sheet_that_would_be_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    planned = planned_of("courtyard")
    monkeypatch.setattr(maker, "LARGEST_BYTES", 100_000)
    with pytest.raises(AxletreeError, match="fewer hours"):
        field_sheet(
            evening_document(planned.evening),
            tables_of("courtyard"),
            planned.ground.table,
            kit_toml="",
        )


def test_a_module_that_needs_a_server_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "field.js").write_text('import { ask } from "./link.js";\n')
    monkeypatch.setattr(maker, "HERE", tmp_path)
    with pytest.raises(AxletreeError, match=r"no server.*link\.js"):
        maker._import_map.__wrapped__()


@pytest.mark.skipif(not os.environ.get("AXLETREE_LONG"), reason="long: AXLETREE_LONG=1")
def test_the_longest_night_of_a_winter_party_still_fits() -> None:
    """Sixteen hours at 60 degrees north with ten minutes a stop: many more stops than usual, each
    with its ways to find it, views and errors."""
    from datetime import date

    from axletree.evening.sheet.plan import EveningRequest, plan_whole
    from axletree.evening.sheet.tables import night_tables

    kit = kit_of("courtyard")
    long = {
        "hours": 16.0,
        "minutes_per_stop": 10.0,
        "stop": None,
        "bedtime": None,
        "breaks": (),
        "most_stops": 48,
        "slack_part": 0.0,
        "find_faint_min": 1.0,
        "find_easy_min": 1.0,
        "touch_chance_percent": 100.0,
    }
    habits = kit.habits.model_copy(update=long)
    kit = kit.model_copy(update={"habits": habits})
    observer = observer_of(kit.site)
    planned = plan_whole(
        kit, observer, EveningRequest(date(2026, 12, 12), made_at=MADE_AT, effort="quick")
    )
    tables = night_tables(kit, observer, planned)
    assert len(planned.evening.stops) >= 30
    content = field_sheet(evening_document(planned.evening), tables, planned.ground.table,
                          kit_toml=demo_text("courtyard"))  # fmt: skip
    assert len(content) < 400_000


def test_the_command_writes_sheet_and_calendar(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, calendar = tmp_path / "night.html", tmp_path / "night.ics"
    words = ["evening", "--kit", "courtyard", "--date", "2026-12-05", "--minutes-per-stop", "20",
             "--field-sheet", str(page), "--calendar", str(calendar)]  # fmt: skip
    assert main(words) == 0
    said = capsys.readouterr().out
    assert str(page) in said
    assert str(calendar) in said
    assert data_of(page.read_bytes())["kit_toml"] == demo_text("courtyard")
    assert calendar.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
