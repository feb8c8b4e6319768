"""A tube in a file of its own: the same answers as from one file, and nobody else's eyepieces."""

from __future__ import annotations

from pathlib import Path

import pytest

from axletree.commands.running.serve import desk_of
from axletree.commands.shared.parsers import parser_of
from axletree.kit.kit import check_text, demo_text
from axletree.kit.reading.lines import parted

AT = ("--at", "2026-12-05T20:30")
COMMANDS = {
    "balance": [], "point": ["M31", *AT], "room": ["M31", *AT], "enough": [],
    "objects": ["--limit", "3", *AT], "log": ["begin", *AT],
}  # fmt: skip
WITHOUT, BARE = parted(demo_text("paddock"), ("tube",), "")
_, FULL = parted(demo_text("paddock"), ("tube", "eyepiece", "barlow", "camera"), "")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    Path("mount.toml").write_text(WITHOUT, encoding="utf-8")
    Path("bare.tube.toml").write_text(BARE, encoding="utf-8")
    Path("full.tube.toml").write_text(FULL, encoding="utf-8")
    return tmp_path


def test_there_is_something_to_try() -> None:
    assert COMMANDS
    assert "[tube]" in BARE
    assert "[[eyepiece]]" in FULL
    assert "[[eyepiece]]" not in BARE


@pytest.mark.parametrize("name", COMMANDS)
def test_a_mount_without_a_tube_carries_the_chosen_one(name, run) -> None:
    status, _, err = run(name, *COMMANDS[name], "--kit", "mount.toml")
    assert status == 2
    assert err == (
        f"axletree {name}: mount.toml: no [tube] in it; choose one with --tube (beside the kit "
        "there are: bare, full) or write [tube] into the kit\n"
    )
    status, out, err = run(name, *COMMANDS[name], "--kit", "mount.toml", "--tube", "bare")
    assert (status, err) == (0, "")
    for file in Path("data").rglob("*.*"):
        file.unlink()
    Path("whole.toml").write_text(demo_text("paddock"), encoding="utf-8")
    assert run(name, *COMMANDS[name], "--kit", "whole.toml")[:2] == (0, out)


@pytest.mark.parametrize(("tube", "eyepieces_of"), [("bare", "courtyard"), ("full", "paddock")])
def test_a_tube_brings_its_eyepieces_or_takes_the_kits(tube, eyepieces_of) -> None:
    kit = desk_of(parser_of("serve").parse_args(["--kit", "courtyard", "--tube", tube])).kit
    court, paddock, other = (
        check_text(demo_text(name))[0] for name in ("courtyard", "paddock", eyepieces_of)
    )
    assert court is not None
    assert paddock is not None
    assert other is not None
    assert court.eyepieces != paddock.eyepieces
    assert (kit.tube, kit.eyepieces) == (paddock.tube, other.eyepieces)
    assert (kit.mount.name, kit.site) == (court.mount.name, court.site)


def test_site_and_tube_are_chosen_together_and_told_apart(run) -> None:
    Path("barn.site.toml").write_text(
        '[site]\nname = "Barn"\nlatitude_deg = 48.2\nlongitude_deg = 16.4\n', encoding="utf-8"
    )
    words = ["point", "M31", *AT, "--site", "barn", "--tube", "bare"]
    assert run(*words)[0] == 0
    for file, row in (("barn.site.toml", "latitude = 1\n"), ("bare.tube.toml", "lenght_mm = 1\n")):
        text = Path(file).read_text(encoding="utf-8").rstrip() + "\n"
        Path(file).write_text(text + row, encoding="utf-8")
        line = len((text + row).splitlines())
        assert f"{file}: line {line}, " in run(*words)[2]
        Path(file).write_text(text, encoding="utf-8")


def test_a_tube_file_is_checked_alone(run) -> None:
    status, out, _ = run("kit", "check", "full.tube.toml")
    assert status == 0
    assert out.startswith("full.tube.toml: nothing wrong. Tube: ")
    assert "mount." not in out
    Path("short.tube.toml").write_text(
        '[tube]\nkind = "refractor"\naperture_mm = 20\nfocal_length_mm = 100\n', encoding="utf-8"
    )
    status, out, _ = run("kit", "check", "short.tube.toml")
    assert status == 1
    assert "too long for a focal length of 100 mm" in out


def test_telescopes_of_an_event_keep_their_own_tubes(run) -> None:
    told = run("evening", "courtyard", "paddock", "--date", "2026-12-05", "--tube", "full")
    assert (told[0], "--tube is for one kit" in told[2]) == (2, True)
