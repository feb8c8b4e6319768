"""Every drawing that a command or the app can make, of several kits and evenings, by name."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import numpy as np

import make_pictures as pictures
from axletree.cli import main
from axletree.ground.skyline.skyline import Horizon, SkylineGap
from axletree.kit.kit import check_text, demo_text
from axletree.mount.rig.build import build_rig
from axletree.mount.rig.kinematics import align
from axletree.tell.kit.drawing import kit_view
from axletree.tell.shared.rig_side import rig_side
from axletree.tell.shared.typeface import by_itself
from axletree.tell.spot.skyline_drawing import skyline_view

READINGS = "star,started,watched_s,drift_arcsec\n" + "".join(
    f"{star},{start},600,{drift}\n"
    for star, start, drift in (
        ("Altair", "21:40", 12), ("Fomalhaut", "22:00", -31), ("Vega", "22:10", 4),
        ("Capella", "22:20", 25), ("Deneb", "22:30", -8), ("Aldebaran", "23:10", 40),
        ("Mirfak", "23:20", 15),
    )
)  # fmt: skip
YARD = """
[yard]
area_m = [[0, 0], [30, 0], [30, 12], [0, 12]]
bearings = "magnetic"
[[yard.tree]]
name = "great macrocarpa by the gate"
x_m = 1
y_m = 13
height_m = 9
crown_radius_m = 2
crown_base_m = 2
[[yard.post]]
name = "post of the washing line"
x_m = 29.6
y_m = -1
height_m = 3
radius_m = 0.06
[[yard.wall]]
name = "long woodshed wall"
points_m = [[31, 0], [31, 12]]
height_m = 2
"""
LONG = {
    "School courtyard near Évora": "Courtyard of the municipal school at Vila Nova de São Bento",
    '"School courtyard"': '"Grandmother\'s telescope on the borrowed mount"',
    "150 mm f/5 Newtonian": "second-hand 150 mm f/5 Newtonian, new mirror",
}

# Names in letters that the typeface lacks, two of them written from right to left.
FOREIGN = {
    "School courtyard near Évora": "ساحة المدرسة البلدية قرب إيفورا",
    '"School courtyard"': '"Ống kính của bà ngoại trên giá mượn"',
    "150 mm f/5 Newtonian": "טלסקופ ניוטוני 150 מ״מ",
}

# What every kit is asked; {0} is the kit, {1} a moment in the dark, {2} one by day.
EACH = {
    "spot": "spot --kit {0} --date 2026-10-10",
    "north by day": "north --kit {0} --at {2}",
    "north by night": "north --kit {0} --at {1}",
    "level": "level --kit {0} --bubble 1.5 135",
    "level rim": "level --kit {0} --bubble rim leg1",
    "level behind": "level --kit {0} --incline 0 0.9 --incline 90 -0.4",
    "pole": "pole --kit {0} --at {1}",
    "enough": "enough --kit {0} --at {1}",
    "balance": "balance --kit {0}",
    "stand": "balance --kit {0} --stand",
    "point": "point M42 --kit {0} --at {1}",
    "room": "room Saturn M42 Fomalhaut Achernar --kit {0} --at {1}",
    "find": "find Saturn --kit {0} --at {1}",
    "follow": "follow Saturn --kit {0} --at {1}",
    "follow a star": "follow --kit {0} --at {1}",
    "check": "check drift stars.csv --kit {0} --at 2026-10-10T23:40 --no-notes",
    "evening": "evening --kit {0} --date 2026-10-10",
    "calendar": "calendar --kit {0} --from 2026-10-01 --to 2027-09-30",
}
# The drawings with lengths and masses, which feet and pounds make longer or shorter.
IN_FEET = ("spot", "level", "balance", "stand", "point")
# Asked once: other hours, dates and options, where the words move.
MORE = {
    "spot in summer": "spot --kit courtyard --date 2026-06-21 --no-pole",
    "north at noon": "north --kit courtyard --at 2026-06-21T13:30 --landmark 38.58,-7.90",
    "north before dawn": "north --kit courtyard --at 2026-12-05T06:10",
    "level clean": "level --kit courtyard --bubble 0 0",
    "level shorten": "level --kit us-courtyard --bubble 2 300 --shorten",
    "pole by bolts": "pole --kit courtyard --at 2026-12-05T19:15 --scale-reading 40 "
                     "--azimuth-error-arcmin 25",
    "pole in spring": "pole --kit courtyard --at 2026-04-05T23:15",
    "pole at dawn": "pole --kit paddock --at 2026-07-05T05:15",
    "enough by camera": "enough --kit paddock --for camera --unguided --exposure-s 300",
    "enough by eye": "enough --kit courtyard --magnification 30 --nudge-minutes 1",
    "balance bare": "balance --kit courtyard --ring-turn 90 --eyepiece 10mm",
    "stand loaded": "balance --kit courtyard --stand --tray 4",
    "point to a planet": "point Jupiter --kit courtyard --at 2026-12-05T23:30",
    "point near the pole": "point Polaris --kit us-courtyard --at 2026-12-05T21:30",
    "room by camera": "room M13 M31 --kit paddock --camera --at 2026-10-10T22:00",
    "follow a wide cluster": "follow NGC104 --kit paddock --at 2026-12-05T23:30",
    "find it wide": "find NGC104 --kit paddock --at 2026-12-05T23:30",
    "follow the Moon": "follow Moon --kit long --at 2026-12-18T20:30",
    "check one": "check drift one.csv --kit paddock --at 2026-10-10T23:40 --no-notes",
    "check two": "check drift two.csv --kit courtyard --at 2026-10-10T22:15 --no-notes",
    "evening in winter": "evening --kit courtyard --date 2026-12-18",
    "evening in June": "evening --kit long --date 2026-06-20",
    "spot, foreign": "spot --kit foreign --date 2026-10-10 --no-pole",
    "check, foreign": "check drift stars.csv --kit foreign --at 2026-10-10T23:40 --no-notes",
    "evening, foreign": "evening --kit foreign --date 2026-10-10",
    "calendar, foreign": "calendar --kit foreign --from 2026-10-01 --to 2026-11-15",
    "calendar of a season": "calendar --kit courtyard --from 2026-10-01 --to 2026-11-15 --best 9",
    "calendar of many": "calendar --kit paddock --from 2026-05-01 --to 2026-10-31 --best 24 "
                        "--apart 1",
}  # fmt: skip


def kits() -> dict[str, str]:
    """The kits' texts: both demo kits, both in US units, one with long, one with foreign names."""
    texts = {name: demo_text(name) for name in ("courtyard", "paddock")}
    long = foreign = texts["courtyard"]
    for short, words in LONG.items():
        assert short in long
        long = long.replace(short, words)
        foreign = foreign.replace(short, FOREIGN[short])
    us = {f"us-{n}": t.replace("[habits]", '[habits]\nunits = "us"') for n, t in texts.items()}
    us["us-paddock"] += YARD
    return {**texts, **us, "long": long, "foreign": foreign}


def commands() -> dict[str, str]:
    """Command lines by the names of their drawings."""
    lines = dict(MORE)
    for kit in kits():
        for name, line in EACH.items() if kit != "foreign" else ():
            if kit.startswith("us-") and name not in IN_FEET:
                continue
            if name == "check" and "paddock" in kit:
                line = line.replace("stars.csv", "south.csv")
            lines[f"{name}, {kit}"] = line.format(kit, "2026-10-10T22:00", "2026-10-10T16:30")
    return lines


def _app() -> Iterator[tuple[str, str]]:
    """What only the app shows: the kit with its measures, a pose, the skyline alone."""
    for name, text in kits().items():
        kit, problems = check_text(text)
        assert kit is not None, problems
        rig, axes = build_rig(kit), align(kit.site.latitude_deg)
        yield f"kit, {name}", kit_view(kit, rig, axes)
        for view in range(3):
            yield f"rig {view}, {name}", rig_side(rig, axes, 2.0, 40.0, view=view)
        azimuth, altitude = np.array(kit.site.skyline.points).T
        gap = Horizon(azimuth, altitude, gaps=(SkylineGap(100.0, 140.0, 0.0),))
        yield f"skyline, {name}", skyline_view(
            gap, kit.site.north, [0.0 if kit.site.north else 180.0],
            [abs(kit.site.latitude_deg)], "sigma Octantis", "The skyline from there", 20.0,
        )  # fmt: skip


def all_drawings(folder: Path, every: int = 1) -> dict[str, str]:
    """SVG texts by name, made in this process within the folder; of each command the first and
    every so manieth."""
    for name, text in kits().items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    rows = READINGS.splitlines(keepends=True)
    for name, count in (("stars", 8), ("south", 3), ("one", 2), ("two", 3)):
        (folder / f"{name}.csv").write_text("".join(rows[:count]), encoding="utf-8")
    found = {}
    before = Path.cwd()
    os.chdir(folder)
    try:
        turn: Counter[str] = Counter()
        for name, line in commands().items():
            turn[line.split()[0]] += 1
            if (turn[line.split()[0]] - 1) % every:
                continue
            line = re.sub(r"--kit (\S+)", r"--kit \1.toml", line)
            words = io.StringIO()
            with contextlib.redirect_stdout(words), contextlib.redirect_stderr(words):
                status = main([*shlex.split(line), "--draw", "picture.svg"])
            assert status == 0, f"axletree {line}: {words.getvalue()}"
            found[name] = Path("picture.svg").read_text(encoding="utf-8")
    finally:
        os.chdir(before)
    found["teach"] = pictures.picture("teach")
    found.update((name, by_itself(svg)) for name, svg in _app())
    return found
