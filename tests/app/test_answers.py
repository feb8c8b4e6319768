"""The pages' answers are the commands' own, and everything that is wrong is one plain sentence."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest
from desks import ORIGIN, client_of, make_desk
from fastapi.testclient import TestClient

from axletree.app.mount_notes import notes_of
from axletree.app.state import Desk
from axletree.app.web.pages import STATIC, TEMPLATES, pages
from axletree.axis.voids import Moved
from axletree.cli import main
from axletree.kit.job import JOB
from axletree.kit.kit import check_text
from axletree.tell.sayings.text import sayings_of

AT = "2026-12-05T20:30:00+00:00"
HOSTILE = "<img src=x onerror=alert(1)>\"'&</script><script>alert(2)</script>"


def command(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    capsys.readouterr()
    assert main([*words, "--json"]) in (0, 1)
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize(
    ("address", "words"),
    [
        (f"/answer/north?at={AT}", ["north", "--at", AT]),
        (f"/answer/pole?at={AT}&scale=40", ["pole", "--at", AT, "--scale-reading", "40"]),
        ("/answer/level?divisions=1.5&towards=135", ["level", "--bubble", "1.5", "135"]),
        ("/answer/level?along=0.8&across=-0.3",
         ["level", "--incline", "0", "0.8", "--incline", "90", "-0.3"]),
        ("/answer/balance", ["balance"]),
        (f"/answer/point?object=Vega&at={AT}", ["point", "Vega", "--at", AT]),
        (f"/answer/point?object=NGC%20869&at={AT}", ["point", "NGC", "869", "--at", AT]),
        (f"/answer/find?object=M31&at={AT}", ["find", "M31", "--at", AT]),
        (f"/answer/find?object=M34&at={AT}&from=Algol&side=east",
         ["find", "M34", "--at", AT, "--from", "Algol", "--side", "east"]),
    ],
    ids=lambda v: v[0] if isinstance(v, list) else "",
)  # fmt: skip
def test_answers_are_the_commands_own(
    client: TestClient, desk: Desk, capsys: pytest.CaptureFixture[str], address: str,
    words: list[str],
) -> None:  # fmt: skip
    said = client.get(address.replace("+", "%2B")).json()
    told = command(capsys, *words, "--kit", str(desk.kit_file))
    for key, value in told.items():
        assert said[key] == pytest.approx(value) if isinstance(value, float) else said[key] == value


def test_follow_joins_the_two_commands(
    client: TestClient, desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    address = f"/answer/follow?object=Vega&at={AT}".replace("+", "%2B")
    said = client.get(address).json()
    file = str(desk.kit_file)
    told = command(capsys, "follow", "Vega", "--at", AT, "--kit", file)
    assert said["eyepieces"] == told["eyepieces"]
    pointed = command(capsys, "point", "Vega", "--at", AT, "--kit", file)
    assert said["sides"] == pointed["sides"]


@pytest.mark.parametrize("name", ["Jupiter", "Moon", "Albireo"])
def test_both_pages_tell_what_shows_and_what_may_be_said(
    client: TestClient, desk: Desk, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    at = "2026-12-20T21:00:00+00:00" if name == "Moon" else "2026-10-10T04:00:00+00:00"
    at = "2026-10-10T20:00:00+00:00" if name == "Albireo" else at
    told = command(capsys, "point", name, "--at", at, "--kit", str(desk.kit_file))
    assert told["eyepiece"]["words"]
    for page in ("point", "follow"):
        said = client.get(f"/answer/{page}?object={name}&at={at}".replace("+", "%2B")).json()
        assert said["eyepiece"]["words"] == told["eyepiece"]["words"]
        assert said["sayings"] == list(sayings_of(name))
        assert len(said["sayings"]) == 2


def test_spot_judges_the_yard_as_it_was_drawn(
    client: TestClient, desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    same = client.post("/answer/spot", json={"date": "2026-12-05"}, headers=ORIGIN).json()
    told = command(capsys, "spot", "--date", "2026-12-05", "--kit", str(desk.kit_file))
    assert same["best"] == told["best"]
    grid = same["grid"]
    row, column = grid["y_m"].index(same["best"]["y_m"]), grid["x_m"].index(same["best"]["x_m"])
    assert grid["score"][row][column] == round(same["best"]["score"])
    assert max(max(r) for r in grid["score"]) == grid["score"][row][column]
    # The same yard with a tall wall before the pole: no place shows it any more.
    plan = client.get("/answer/yard").json()["yard"]
    plan["wall"].append({"name": HOSTILE, "points_m": [[-60, 17], [80, 17]], "height_m": 60})
    walled = client.post(
        "/answer/spot", json={"yard": plan, "date": "2026-12-05"}, headers=ORIGIN
    ).json()
    assert walled["best"] is None
    assert walled["pole_hidden_by"][0]["name"] == HOSTILE
    assert "<img" not in walled["drawing"]


def test_the_sun_gets_no_side(client: TestClient) -> None:
    noon = "2026-12-05T12:30:00Z"
    for path in ("point", "follow"):
        said = client.get(f"/answer/{path}?object=Sun&at={noon}").json()
        assert not said.get("sides")
        assert "blinds" in said["words"]
    for name, words in (("Sun", "no side now"), ("Mercury", "from the Sun")):
        said = client.get(f"/answer/find?object={name}&at={noon}").json()
        assert said["ended"] == "near_the_sun"
        assert words in said["words"]
        assert "blinds" in said["page"]["near_sun"]
        # Nothing that leads there: no direction, step, view or drawing.
        assert said["page"]["views"] == {}
        assert not said["views"]
        assert said["where_to_look"] is said["steps"] is said["hop"] is said["sweep"] is None
    up = client.get(f"/answer/point/up?at={noon}").json()
    assert up["sun_is_up"]
    assert "Sun" not in [o["name"] for o in up["up"]]


@pytest.mark.parametrize(
    ("path", "status", "words"),
    [
        ("/answer/point?object=xyzzy", 422, "no object named 'xyzzy'"),
        ("/answer/point?object=", 422, "object"),
        ("/answer/point?object=Vega&at=yesterday", 422, "not a date and time"),
        ("/answer/point?object=Vega&minutes=nan", 422, "minutes"),
        ("/answer/point?object=--kit", 422, "no object named '--kit'"),
        ("/answer/find?object=xyzzy", 422, "no object named 'xyzzy'"),
        ("/answer/find?object=", 422, "object"),
        ("/answer/find?object=M31&from=xyzzy", 422, "xyzzy"),
        ("/answer/find?object=M31&side=north", 422, "side"),
        ("/answer/find?object=M31&at=yesterday", 422, "not a date and time"),
        ("/answer/level?divisions=x", 422, "divisions"),
        ("/answer/level?divisions=nan", 422, "nan"),
        ("/answer/pole?scale=1e9", 422, "between -10 and 100"),
        ("/answer/north?landmark=nowhere", 422, "nowhere"),
        ("/answer/north?landmark=--help", 422, "help"),
        ("/answer/balance?eyepiece=99%20mm", 422, "no eyepiece"),
        ("/answer/balance/now?weights=9@1&over_mm=100", 422, "no weight of this kit"),
        ("/answer/balance/now?weights=0@9999&over_mm=100", 422, "outside the shaft"),
        ("/answer/rig/side?view=7", 422, "view"),
        ("/answer/nothing", 404, "nothing here"),
    ],
)
def test_what_is_wrong_is_one_plain_sentence(
    client: TestClient, path: str, status: int, words: str
) -> None:
    reply = client.get(path)
    assert reply.status_code == status
    problem = reply.json()["problem"]
    assert words in problem
    assert "\n" not in problem
    assert "Traceback" not in problem
    assert len(problem) < 260


def test_hostile_names_stay_words_everywhere(tmp_path: Path) -> None:
    desk = make_desk(folder=tmp_path)
    text = desk.text.replace('name = "School courtyard"', f"name = '''{HOSTILE}'''")
    text = text.replace('name = "flag pole"', f"name = '''{HOSTILE}'''")
    client = client_of(desk)
    client.get("/")
    put = client.put("/kit", json={"text": text, "revision": 1}, headers=ORIGIN)
    assert put.status_code == 200, put.text
    assert desk.kit.name == HOSTILE
    for page in pages():
        shown = client.get(f"/{page.name}").text
        assert "<img src=x" not in shown, page.name
        assert "&lt;img src=x" in shown
        assert "<script>" not in shown
    drawing = client.get("/answer/kit").json()["drawing"]
    assert "<img" not in drawing


def test_a_kit_is_checked_at_every_keystroke_and_kept_only_when_right(
    client: TestClient, desk: Desk
) -> None:
    def check(*edits: dict[str, object], units: str = "metric") -> dict[str, object]:
        body = {"text": desk.text, "edits": list(edits), "units": units}
        reply = client.post("/answer/kit/check", json=body, headers=ORIGIN)
        found: dict[str, object] = reply.json()
        return found

    def field(sheet: dict[str, object], key: str) -> dict[str, object]:
        fields = (f for g in sheet["groups"] for e in g["entries"] for f in e["fields"])  # type: ignore[attr-defined]
        return next(f for f in fields if f["id"] == key)  # type: ignore[no-any-return]

    length = ["tube", "length_mm"]
    right = check({"path": length, "value": "950"})
    assert right["right"]
    assert field(right, "tube.length_mm") | {"value": "950", "source": "given"} == field(
        right, "tube.length_mm"
    )
    assert "950 mm" in right["drawing"]  # type: ignore[operator]
    inches = check({"path": length, "value": "37,4"}, units="us")
    assert "length_mm = 949.96" in inches["text"]  # type: ignore[operator]
    wrong = check({"path": length, "value": "-5"})
    assert not wrong["right"]
    assert "more than 0" in field(wrong, "tube.length_mm")["problem"]  # type: ignore[operator]
    unread = check({"path": length, "value": "long"})
    assert "is not a number" in field(unread, "tube.length_mm")["problem"]  # type: ignore[operator]
    assert not unread["right"]
    emptied = check({"path": length, "value": ""})
    assert field(emptied, "tube.length_mm")["source"] == "guessed"
    # Comments of the file live on through an edit.
    assert "# azimuth and altitude of roofs" in right["text"]  # type: ignore[operator]
    kept = client.put("/kit", json={"text": wrong["text"], "revision": 1}, headers=ORIGIN)
    assert kept.status_code == 422
    assert desk.kit.tube.length_mm == 700
    kept = client.put("/kit", json={"text": right["text"], "revision": 1}, headers=ORIGIN)
    assert kept.json() == {"revision": 2}
    assert desk.kit_file is not None
    assert check_text(desk.kit_file.read_text())[0] == desk.kit
    assert desk.kit.tube.length_mm == 950
    late = client.put("/kit", json={"text": desk.text, "revision": 1}, headers=ORIGIN)
    assert late.status_code == 422
    assert "changed elsewhere" in late.json()["problem"]


def test_entries_are_added_and_taken_away(client: TestClient, desk: Desk) -> None:
    body = {
        "text": desk.text, "units": "metric",
        "edits": [
            {"path": ["eyepiece"], "what": "add"},
            {"path": ["eyepiece", 3, "focal_length_mm"], "value": "32"},
            {"path": ["eyepiece", 0], "what": "remove"},
            {"path": ["camera"], "what": "add"},
            {"path": ["camera", "pixel_um"], "value": "3.8"},
            {"path": ["camera", "width_px"], "value": "4000"},
            {"path": ["camera", "height_px"], "value": "3000"},
        ],
    }  # fmt: skip
    found = client.post("/answer/kit/check", json=body, headers=ORIGIN).json()
    kit, problems = check_text(found["text"])
    assert kit is not None, problems
    assert [e.focal_length_mm for e in kit.eyepieces] == [10, 6, 32]
    assert kit.camera is not None
    assert kit.camera.width_px == 4000
    for path in (["guessed"], ["tube", "nonsense"], ["nothing", "at", "all"], ["tube", 3]):
        bad = {**body, "edits": [{"path": path, "value": "1"}]}
        reply = client.post("/answer/kit/check", json=bad, headers=ORIGIN)
        assert reply.status_code in (200, 422)
        if reply.status_code == 200:
            assert not reply.json()["right"]


def test_a_page_cannot_make_the_app_read_other_files(client: TestClient, desk: Desk) -> None:
    secret = "/etc/passwd"
    for name in (secret, "../secret.txt", "sub/secret.txt"):
        text = desk.text.replace("[site.skyline] ", f'[site.skyline]\nfile = "{name}"\n#')
        text = text.replace("points = [", "# points = [", 1)
        begin, end = text.index("# points = ["), text.index("[mount]")
        text = text[:begin] + text[end:]
        assert check_text(text)[0] is not None
        # Reading it would refuse the draft in a sentence about the file.
        draft = {"text": text, "units": "metric"}
        found = client.post("/answer/kit/check", json=draft, headers=ORIGIN)
        assert found.status_code == 200, name
        assert found.json()["right"]
        reply = client.put("/kit", json={"text": text, "revision": 1}, headers=ORIGIN)
        assert reply.status_code == 422, name
        assert "beside the kit" in reply.json()["problem"]
    assert desk.kit.site.skyline.file is None


@pytest.mark.parametrize(
    "text",
    ["", "x = [", "kit_version = 2", "\x00", "a" * 100_000, "[" * 3000, "tube = 3\nmount = []",
     '[tube]\nkind = "newtonian"\naperture_mm = 1e309\nfocal_length_mm = nan'],
    ids=["empty", "not toml", "version", "nul", "long", "deep", "types", "infinite"],
)  # fmt: skip
def test_bad_kits_are_answered_not_kept(client: TestClient, desk: Desk, text: str) -> None:
    body = {"text": text, "edits": [], "units": "metric"}
    found = client.post("/answer/kit/check", json=body, headers=ORIGIN)
    assert found.status_code == 200
    assert not found.json()["right"]
    assert found.json()["problems"]
    kept = client.put("/kit", json={"text": text, "revision": 1}, headers=ORIGIN)
    assert kept.status_code == 422
    assert desk.revision == 1


def test_a_new_kit_from_a_few_numbers(client: TestClient) -> None:
    new = {"place": "Évora", "kind": "refractor", "aperture_mm": 80, "focal_length_mm": 600,
           "size": "small", "motion": "motor", "name": HOSTILE}  # fmt: skip
    text = client.post("/answer/kit/new", json=new, headers=ORIGIN).json()["text"]
    kit, problems = check_text(text)
    assert kit is not None, problems
    assert kit.name == HOSTILE
    assert kit.site.latitude_deg == pytest.approx(38.57, abs=0.05)
    bad = client.post("/answer/kit/new", json={**new, "place": "nowhere at all"}, headers=ORIGIN)
    assert bad.status_code == 422
    assert "no place called" in bad.json()["problem"]


def test_the_yard_is_written_into_the_kit(client: TestClient, desk: Desk) -> None:
    plan = client.get("/answer/yard").json()["yard"]
    plan["tree"][0]["x_m"] = 7.5
    plan["post"].append({"name": HOSTILE, "x_m": 1, "y_m": 2, "height_m": 3, "radius_m": 0.1})
    kept = client.put("/kit/yard", json={"yard": plan, "revision": 1}, headers=ORIGIN)
    assert kept.status_code == 200, kept.text
    assert desk.kit.yard is not None
    assert desk.kit.yard.trees[0].x_m == 7.5
    assert desk.kit.yard.posts[-1].name == HOSTILE
    assert desk.kit_file is not None
    assert check_text(desk.kit_file.read_text())[0] == desk.kit
    assert desk.kit.tube == make_desk().kit.tube
    plan["tree"][0]["height_m"] = -1
    bad = client.put("/kit/yard", json={"yard": plan, "revision": 2}, headers=ORIGIN)
    assert bad.status_code == 422


def test_pages_hold_no_script_style_or_foreign_address_of_their_own() -> None:
    for file in (*TEMPLATES.glob("*.html"), *(f for f in STATIC.rglob("*") if f.is_file())):
        text = file.read_text(encoding="utf-8")
        allowed = text.replace("http://www.w3.org/2000/svg", "")
        assert "http://" not in allowed, file.name
        assert "https://" not in allowed, file.name
        assert "@import" not in text
        if file.suffix == ".html":
            assert "<style" not in text
            assert " style=" not in text
            assert " onclick" not in text
            assert "|safe" not in text.replace(" ", "")
            assert "<select" not in text
            assert "<datalist" not in text
        if file.suffix == ".js":
            assert "innerHTML" not in text, file.name
            assert "insertAdjacentHTML" not in text
            assert "document.write" not in text
            assert "showModal" not in text
            assert "eval(" not in text


def test_every_page_lists_the_job_and_asks_its_question(client: TestClient) -> None:
    order = [p.name for p in pages()]
    assert order[:10] == ["kit", *JOB]
    for page in pages():
        shown = client.get(f"/{page.name}")
        assert shown.status_code == 200
        assert f"<h1>{page.question}</h1>" in shown.text
        assert shown.text.count("<h1>") == 1
        assert 'aria-current="page"' in shown.text
        assert f'/joined/{page.name}.js"></script>' in shown.text


def test_static_files_are_kept_by_the_browser_until_they_change(client: TestClient) -> None:
    page = client.get("/").text
    address = page.split('href="')[1].split('"')[0]
    sheet = client.get(address)
    assert sheet.status_code == 200
    assert "immutable" in sheet.headers["cache-control"]
    assert client.get("/static/000000000000/sheet.css").status_code == 404
    assert client.get(address.rsplit("/", 1)[0] + "/../server.py").status_code == 404


def test_point_knows_what_was_measured_of_this_mount(client: TestClient, desk: Desk) -> None:
    asked = {"object": "Mirach", "at": AT}
    assert "state" not in client.get("/answer/point", params=asked).json()["circles"]
    notes_of(desk).note_moved(Moved.HOUR_CIRCLE, datetime.fromisoformat("2026-12-05T20:00+00:00"))
    told = client.get("/answer/point", params=asked).json()["circles"]
    assert told["state"]["evening"] == "2026-12-05"
    assert all(side["hour_lost"] for side in told["sides"])
    left_out = client.get("/answer/point", params={**asked, "as_kit": "true"}).json()
    assert "state" not in left_out["circles"]
    demo = client_of(make_desk())
    demo.get("/")
    assert "state" not in demo.get("/answer/point", params=asked).json()["circles"]


def test_the_pole_through_the_tube_or_along_the_axis(client: TestClient) -> None:
    own = client.get("/answer/pole").json()
    assert own["has_own"]
    assert not own["through_tube"]["looked_through"]
    assert own["swing"] == []
    tube = client.get("/answer/pole", params={"through": "tube"}).json()
    assert tube["through_tube"]["looked_through"]
    assert [svg.startswith("<svg") for svg, _ in tube["swing"]] == [True] * 3
    assert len(tube["words"]["through_tube"]) >= 5
    # The finder shows the sky upside down as the scope does: the star stands at the same hour.
    assert tube["clock_hour"] == pytest.approx(own["clock_hour"], abs=0.02)
    assert client.get("/answer/pole", params={"through": "roof"}).status_code == 422
    assert len(client.get("/answer/teach").json()["swing"]) == 3
