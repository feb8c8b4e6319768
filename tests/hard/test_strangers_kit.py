"""A kit from a stranger reads and writes nothing else, runs nothing, fetches nothing.

Every command is run on a kit full of traps while a watchman listens to Python's audit events: each
file opened, folder changed, program started and address asked for.
"""

from __future__ import annotations

import socket
import sqlite3
import subprocess
from pathlib import Path

import pytest
from watchman import on_watch

from axletree import cli
from axletree.commands import available
from axletree.kit.kit import check_text, demo_text

AT = ("--at", "2026-12-05T20:30")
DATE = ("--date", "2026-12-05")
OUTSIDE = (
    "/etc/passwd", "../secret.csv", "../../secret.csv", "sub/../../secret.csv", "~/secret.csv",
    "file:///etc/passwd", "https://example.org/x.csv", "//host/share/x.csv", "C:\\secret.csv",
    "..\\secret.csv", "/dev/zero", "/dev/stdin", "/proc/self/environ", "link.csv", "a\\u0000b",
    "$HOME/secret.csv", "`id`.csv", "|id", ".", "", "x" * 190 + "/" + "y" * 5,
)  # fmt: skip
SECRET = "0,1\n90,SECRET-WORD\n"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "kit"
    folder.mkdir()
    for place in (tmp_path, tmp_path.parent):
        (place / "secret.csv").write_text(SECRET, encoding="utf-8")
    (folder / "link.csv").symlink_to(tmp_path / "secret.csv")
    monkeypatch.chdir(folder)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(folder / "data"))
    return folder


def _watched(words: list[str], folder: Path) -> tuple[int, list[str]]:
    with on_watch(folder) as watch:
        status = cli.main(words)
    return status, watch.seen


@pytest.mark.parametrize("key", ["skyline", "own"])
@pytest.mark.parametrize("name", OUTSIDE)
def test_a_kit_names_no_file_outside_its_folder(key, name, home, capsys) -> None:
    swap = {
        "skyline": ("[site.skyline]", f'[site.skyline]\nfile = "{name}"'.replace("\\", "\\\\")),
        "own": ("[habits]", f'[habits]\nown_objects_file = "{name}"'.replace("\\", "\\\\")),
    }[key]
    text = demo_text().replace(*swap).replace("\\\\u0000", "\\u0000")
    (home / "kit.toml").write_text(text, encoding="utf-8")
    words = ["pole", *AT] if key == "skyline" else ["objects", *AT]
    status, seen = _watched([*words, "--kit", "kit.toml"], home)
    out, err = capsys.readouterr()
    assert seen == []
    assert status == 2, out
    assert len(err.strip().splitlines()) == 1
    assert "SECRET" not in out + err
    assert "file" in err


EVERY_COMMAND = {
    "evening": [*DATE, "--out", "night", "--field-sheet", "f.html", "--calendar", "c.ics",
                "--draw", "e.svg"],
    "kit": ["check", "kit.toml"],
    "place": ["Évora"],
    "where": ["Vega", *AT],
    "spot": [*DATE, "--spacing", "2", "--draw", "s.svg"],
    "north": [*AT, "--draw", "n.svg"],
    "level": ["--bubble", "1.5", "135", "--draw", "l.svg"],
    "pole": [*AT, "--draw", "p.svg"],
    "enough": ["--draw", "t.svg"],
    "balance": ["--draw", "b.svg"],
    "point": ["M31", *AT, "--draw", "o.svg"],
    "room": ["M31", *AT, "--draw", "r.svg"],
    "find": ["M31", *AT, "--draw", "v.svg"],
    "follow": ["Moon", *AT],
    "check": ["turned", "--altitude-turns", "1", *AT],
    "objects": [*AT],
    "calendar": ["--from", "2026-12-01", "--to", "2026-12-03", "--ics", "c.ics"],
    "log": ["begin", *AT],
    "completion": ["bash"],
}  # fmt: skip
NO_KIT = ("kit", "place", "completion")
WRITTEN = (".svg", ".html", ".ics", ".toml", ".csv", ".jsonl", ".sqlite", ".sqlite-wal",
           ".sqlite-shm", ".txt", ".json", ".pdf")  # fmt: skip
# Names that would do harm where somebody takes them for more than words.
TRAPS = {
    'name = "School courtyard"': 'name = "$(touch pwned) `touch pwned` ; touch pwned"',
    'name = "School courtyard near Évora"': 'name = "<script>fetch(`//example.org`)</script>{{7*7}} #include x \\\\input{/etc/passwd}"',  # noqa: E501
    'name = "hand-driven mount"': "name = '=cmd()|@SUM(1) %s %n {0.__class__} #read(\"/etc/passwd\")'",  # noqa: E501
    'name = "150 mm f/5 Newtonian"': 'name = "]]><image href=\\"http://example.org/x.png\\"/>&xxe;"',
}


def _trapped() -> str:
    text = demo_text()
    for good, trap in TRAPS.items():
        assert good in text
        text = text.replace(good, trap)
    return text


def test_every_command_is_tried() -> None:
    assert set(available()) == set(EVERY_COMMAND) | {"serve"}


@pytest.mark.parametrize("name", EVERY_COMMAND)
def test_no_command_leaves_the_folder_or_the_machine(name, home, capsys) -> None:
    (home / "kit.toml").write_text(_trapped(), encoding="utf-8")
    words = [name, *EVERY_COMMAND[name], *([] if name in NO_KIT else ["--kit", "kit.toml"])]
    status, seen = _watched(words, home)
    out, err = capsys.readouterr()
    assert (status, err) == (0, "")
    assert seen == []
    for file in home.rglob("*"):
        assert file.is_dir() or file.suffix in WRITTEN, file
        assert "pwned" not in file.name
        if file.suffix in (".svg", ".html"):
            drawn = file.read_text(encoding="utf-8")
            assert "<script>fetch" not in drawn
            assert "<image" not in drawn
    assert "root:" not in out


def test_text_that_a_terminal_would_obey_never_reaches_it(home, capsys) -> None:
    for trap in ("a\\u001b[2Jb", "a\\u202eb", "a\\nb", "a\\u0007", "a\\u009b31m", "x" * 300):
        text = demo_text().replace('name = "School courtyard"', f'name = "{trap}"')
        kit, problems = check_text(text)
        assert kit is None
        assert problems[0].key == "name"
        (home / "kit.toml").write_text(text, encoding="utf-8")
        cli.main(["kit", "check", "kit.toml"])
        out, err = capsys.readouterr()
        assert not set(out + err) & set("\x1b\x07\x9b\u202e")
    # Words of other people, from an imported logbook, are shown harmless as well.
    cli.main(["log", "begin", *AT])
    cli.main(["log", "add", "note", "red \x1b[31malert\x1b[0m \u202egnp", *AT])
    capsys.readouterr()
    cli.main(["log", "show"])
    out = capsys.readouterr().out
    assert "alert" in out
    assert not set(out) & set("\x1b\u202e")


def test_names_of_any_script_are_welcome() -> None:
    for name in ("Évora", "天文台", "مرصد", "обсерватория", "می‌خواهم", "Ærø", "Ναύπλιο 🔭"):
        kit, problems = check_text(demo_text().replace('"School courtyard"', f'"{name}"'))
        assert kit is not None, problems
        assert kit.name == name


def test_the_watchman_sees_and_stops(tmp_path: Path) -> None:
    """The guard itself: each of these must be noticed, and must not happen."""
    inside, outside = tmp_path / "inside", tmp_path / "outside"
    inside.mkdir()
    outside.write_text("kept")

    def fetch() -> None:
        with socket.socket() as s:
            s.connect(("127.0.0.1", 9))

    with on_watch(inside) as watch:
        for harm in (
            lambda: outside.write_text("x"),
            lambda: outside.open("a"),
            lambda: Path("/etc/passwd").read_text(encoding="utf-8"),
            fetch,
            lambda: subprocess.run(["true"], check=True),
            outside.unlink,
            lambda: outside.rename(inside / "taken"),
            lambda: sqlite3.connect(outside),
            (tmp_path / "new").mkdir,
        ):
            with pytest.raises(PermissionError):
                harm()
        (inside / "fine").write_text("x")
    assert len(watch.seen) == 9
    assert outside.read_text() == "kept"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["inside", "outside"]
    outside.unlink()
