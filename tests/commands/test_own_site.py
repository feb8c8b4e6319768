"""A site in a file of its own: every command takes it, and says which file is wrong where."""

from __future__ import annotations

from pathlib import Path

import pytest

from axletree.app.own_files import OwnFiles
from axletree.app.state import Desk
from axletree.commands import available
from axletree.commands.running.serve import desk_of
from axletree.commands.shared.parsers import parser_of
from axletree.kit.errors import AxletreeError
from axletree.kit.kit import check_text, demo_text
from axletree.kit.reading.composed import OwnPart
from axletree.kit.reading.lines import parted

AT = ("--at", "2026-12-05T20:30")
DATE = ("--date", "2026-12-05")
COMMANDS = {
    "where": ["Vega", *AT], "spot": [*DATE, "--spacing", "4"], "north": [*AT],
    "level": ["--bubble", "1.5", "135"], "pole": [*AT], "enough": [], "balance": [],
    "point": ["M31", *AT], "room": ["M31", *AT], "find": ["M31", *AT], "follow": ["Moon", *AT],
    "check": ["turned", "--altitude-turns", "1", *AT], "objects": ["--limit", "3", *AT],
    "calendar": ["--from", "2026-12-01", "--to", "2026-12-02"], "log": ["begin", *AT],
    "evening": [*DATE, "--logbook", "none", "--field-sheet", "f.html"],
}  # fmt: skip
NO_KIT = {"kit", "place", "completion", "serve"}
REST, SITE = parted(demo_text(), ("site", "yard"), "")
BARN = SITE.replace("School courtyard near Évora", "Barn").replace("38.5712", "48.2082")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    Path("rig.toml").write_text(REST, encoding="utf-8")
    Path("barn.site.toml").write_text(BARN, encoding="utf-8")
    Path("yard.site.toml").write_text(SITE, encoding="utf-8")
    return tmp_path


def test_every_command_that_takes_a_kit_is_tried() -> None:
    assert COMMANDS
    assert set(COMMANDS) == set(available()) - NO_KIT


@pytest.mark.parametrize("name", COMMANDS)
def test_a_rig_without_a_site_stands_where_it_is_told(name, run) -> None:
    status, _, err = run(name, *COMMANDS[name], "--kit", "rig.toml")
    assert (status, err) == (
        2,
        f"axletree {name}: rig.toml: no [site] in it; choose one with --site (beside the kit "
        "there are: barn, yard) or write [site] into the kit\n",
    )
    status, out, err = run(name, *COMMANDS[name], "--kit", "rig.toml", "--site", "yard")
    assert (status, err) == (0, "")
    # The kit in one file gives the same answer, so the same rig stands at the same place.
    Path("whole.toml").write_text(demo_text(), encoding="utf-8")
    for file in Path("data").rglob("*.*"):
        file.unlink()
    assert run(name, *COMMANDS[name], "--kit", "whole.toml")[:2] == (0, out)


def test_the_chosen_site_takes_the_place_of_the_kits_own(run) -> None:
    Path("axletree.toml").write_text(demo_text(), encoding="utf-8")
    assert "School courtyard near Évora" in run("where", "Vega", *AT)[1]
    told = run("where", "Vega", *AT, "--site", "barn")[1]
    assert "Barn" in told
    assert told == run("where", "Vega", *AT, "--site", "barn.site.toml", "--kit", "courtyard")[1]


def test_a_name_that_no_site_has_is_refused_with_those_there_are(run) -> None:
    assert run("where", "Vega", "--kit", "rig.toml", "--site", "barm")[2] == (
        "axletree where: --site barm: no such site; beside the kit there are: barn, yard\n"
    )


@pytest.mark.parametrize(
    ("file", "old", "new", "where"),
    [
        ("barn.site.toml", "elevation_m = 292", "elevation_m = 29200", "elevation_m"),
        ("barn.site.toml", "slope_percent = 1.5", "slope = 1.5", "slope"),
        ("barn.site.toml", "[yard]  ", "[tube]\nname = 'x'\n[yard]  ", "[tube]"),
        ("rig.toml", "focal_length_mm = 750", "focal_length_mm = -750", "focal_length_mm = -750"),
        ("rig.toml", "visitors = 12", "visitors = ", "visitors ="),
    ],
)
def test_a_mistake_is_told_with_its_file_and_its_line_there(file, old, new, where, run) -> None:
    text = Path(file).read_text(encoding="utf-8")
    assert text.count(old) == 1
    text = text.replace(old, new)
    Path(file).write_text(text, encoding="utf-8")
    line = next(n for n, row in enumerate(text.split("\n"), 1) if row.startswith(where))
    status, _, err = run("where", "Vega", "--kit", "rig.toml", "--site", "barn")
    assert status == 2
    assert err.startswith(f"axletree where: {file}: ")
    assert f"line {line}, " in err
    assert len(err.splitlines()) == 1
    if file == "barn.site.toml":
        status, out, _ = run("kit", "check", file)
        assert status == 1
        assert out.splitlines()[0] == "1 thing to mend in barn.site.toml:"
        assert f"line {line}, " in out


def test_a_site_file_is_checked_alone(run) -> None:
    status, out, _ = run("kit", "check", "barn.site.toml")
    assert status == 0
    assert out.startswith("barn.site.toml: nothing wrong. Site: Barn.")
    assert "tube." not in out


def test_a_rig_without_a_site_is_checked_with_one(run) -> None:
    status, out, err = run("kit", "check", "rig.toml", "--site", "barn")
    assert (status, err) == (0, "")
    assert out.startswith("rig.toml: nothing wrong.")
    assert run("kit", "check", "rig.toml")[0] == 1
    text = BARN.replace("elevation_m = 292", "elevation_m = 29200")
    Path("barn.site.toml").write_text(text, encoding="utf-8")
    line = text[: text.index("elevation_m")].count("\n") + 1
    status, _, err = run("kit", "check", "rig.toml", "--site", "barn")
    assert (status, f"barn.site.toml: line {line}, site.elevation_m" in err) == (2, True)


def test_a_skyline_file_lies_beside_the_site(home: Path, run) -> None:
    away = home / "away"
    away.mkdir()
    start, end = BARN.index("points = ["), BARN.index("[yard]")
    (away / "barn.site.toml").write_text(f'{BARN[:start]}file = "sky.csv"\n{BARN[end:]}')
    words = ["north", *AT, "--kit", "rig.toml", "--site", "away/barn.site.toml"]
    assert "no such file" in run(*words)[2]
    (away / "sky.csv").write_text("0,89\n90,89\n180,89\n270,89\n")
    high = run(*words)
    (away / "sky.csv").write_text("0,0\n90,0\n180,0\n270,0\n")
    low = run(*words)
    assert (high[0], low[0]) == (0, 0)
    assert high[1] != low[1]


def test_one_site_never_learns_from_the_evenings_of_another(run) -> None:
    def first() -> str:
        told = run("evening", "--kit", "rig.toml", "--site", "yard", "--date", "2026-12-08")
        assert told[0] == 0
        return told[1]

    fresh = first()
    for site in ("barn", "yard"):
        rig = ("--kit", "rig.toml", "--site", site)
        assert run("log", "begin", *AT, *rig)[0] == 0
        for shown in ("M31", "M42", "M45", "M1", "M33", "M15", "Saturn"):
            assert run("log", "add", "done", shown, *AT, *rig)[0] == 0
        # Those of the barn change nothing here, those of the yard do.
        assert (first() == fresh) is (site == "barn")


def desk(*words: str) -> Desk:
    return desk_of(parser_of("serve").parse_args(words))


def test_the_app_keeps_the_site_in_its_file_and_the_rig_in_its_own(home: Path) -> None:
    Path("axletree.toml").write_text(demo_text(), encoding="utf-8")
    lying = desk("--site", "barn")
    assert lying.kit.site.name == "Barn"
    assert check_text(lying.text)[0] == lying.kit
    text = lying.text.replace('"Barn"', '"Old barn"').replace("visitors = 12", "visitors = 7")
    assert lying.keep_kit(text, lying.revision) == []
    assert lying.kit.site.name == "Old barn"
    kit, _ = check_text(Path("axletree.toml").read_text(encoding="utf-8"))
    whole, _ = check_text(demo_text())
    assert kit is not None
    assert whole is not None
    assert (kit.habits.visitors, kit.site, kit.yard) == (7, whole.site, whole.yard)
    assert "Old barn" in Path("barn.site.toml").read_text(encoding="utf-8")
    again = desk("--site", "barn")
    assert (again.kit, isinstance(again.own_files, OwnFiles)) == (lying.kit, True)


def test_the_app_takes_the_site_that_is_chosen_on_its_page(home: Path) -> None:
    Path("axletree.toml").write_text(demo_text(), encoding="utf-8")
    lying = desk()
    lying.choose_parts({OwnPart.SITE: "barn"}, lying.revision)
    assert (lying.kit.site.name, lying.revision) == ("Barn", 2)
    assert (lying.kit, lying.text) == (desk("--site", "barn").kit, desk("--site", "barn").text)
    text = lying.text.replace("visitors = 12", "visitors = 7")
    assert lying.keep_kit(text, lying.revision) == []
    # Back to the kit's own, which was kept with the change.
    lying.choose_parts({OwnPart.SITE: ""}, lying.revision)
    assert (lying.kit.site.name, lying.kit.habits.visitors) == ("School courtyard near Évora", 7)
    assert (lying.kit, lying.own_files) == (desk().kit, None)
    for named in ("barm", "../barn", str(home / "barn.site.toml"), "barn.site.toml"):
        with pytest.raises(AxletreeError, match="no such site; beside the kit there are: barn, ya"):
            lying.choose_parts({OwnPart.SITE: named}, lying.revision)
    with pytest.raises(AxletreeError, match="changed elsewhere"):
        lying.choose_parts({OwnPart.SITE: "barn"}, lying.revision - 1)
    Path("barn.site.toml").write_text("[site]\nlatitude_deg = 95\n", encoding="utf-8")
    with pytest.raises(AxletreeError, match=r"barn.site.toml: line 1, site.longitude_deg"):
        lying.choose_parts({OwnPart.SITE: "barn"}, lying.revision)
    assert lying.kit == desk().kit


def test_a_kit_without_a_site_is_never_left_without_one(home: Path) -> None:
    lying = desk("--kit", "rig.toml", "--site", "barn")
    with pytest.raises(AxletreeError, match="no \\[site\\] in it"):
        lying.choose_parts({OwnPart.SITE: ""}, lying.revision)
    assert lying.kit.site.name == "Barn"


def test_a_demo_kit_in_the_app_is_nobodys_until_it_is_kept(home: Path) -> None:
    lying = desk("--kit", "courtyard")
    assert (lying.demo, lying.kit_file) == (True, Path("axletree.toml"))
    assert lying.keep_kit(lying.text, lying.revision) == []
    assert not lying.demo
    # A kit of one's own that lies here is never written over with a demo kit.
    own = Path("axletree.toml").read_text(encoding="utf-8")
    other = desk("--kit", "paddock")
    assert other.keep_kit(other.text, other.revision) == []
    assert Path("axletree.toml").read_text(encoding="utf-8") == own
    assert Path("paddock.toml").is_file()
