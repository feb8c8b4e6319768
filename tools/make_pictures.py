"""Make the handbook's pictures, all of them drawings of the program itself.

Each is a command with --draw on a demo kit at a fixed moment, so that the same program makes the
same picture. Run it after a drawing has been changed on purpose:

    python tools/make_pictures.py            write docs/pictures/*.svg
    python tools/make_pictures.py NAME ...   only these
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import shlex
import sys
import tempfile
from datetime import datetime
from pathlib import Path

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"
DRIFT = "star,started,watched_s,drift_arcsec\nAltair,21:40,600,12\nFomalhaut,22:00,600,-31\n"

COMMANDS: dict[str, str] = {
    "spot": "spot --kit courtyard --date 2026-10-10",
    "north": "north --kit courtyard --at 2026-10-10T16:30",
    "level": "level --kit courtyard --bubble 1.5 135",
    "pole": "pole --kit courtyard --at 2026-10-10T20:30",
    "enough": "enough --kit paddock --at 2026-10-10T20:30",
    "balance": "balance --kit courtyard",
    "stand": "balance --kit courtyard --stand",
    "point": "point M13 --kit courtyard --at 2026-10-10T21:00",
    "room": "room Saturn M13 --kit courtyard --at 2026-10-10T21:00",
    "find": "find M57 --kit courtyard --at 2026-10-10T21:00 --from Vega",
    "follow": "follow Saturn --kit courtyard --at 2026-10-10T22:00",
    "check": "check drift stars.csv --kit courtyard --at 2026-10-10T22:15 --no-notes",
    "evening": "evening --kit courtyard --date 2026-10-10",
    "calendar": "calendar --kit courtyard --from 2026-10-01 --to 2027-09-30",
}
NAMES = (*COMMANDS, "still", "teach")


def picture(name: str) -> str:
    """One picture's SVG text, with the day's colours and the typeface's letters in it."""
    if name == "teach":
        return _teach()
    if name == "still":
        return _still()
    from axletree.cli import main

    before, data = Path.cwd(), os.environ.get("XDG_DATA_HOME")
    with tempfile.TemporaryDirectory() as place:
        (Path(place) / "stars.csv").write_text(DRIFT, encoding="utf-8")
        os.chdir(place)
        os.environ["XDG_DATA_HOME"] = place  # the person's own logbook stays out of it
        try:
            with contextlib.redirect_stdout(io.StringIO()):
                status = main([*shlex.split(COMMANDS[name]), "--draw", "picture.svg"])
            assert status == 0, f"axletree {COMMANDS[name]} failed"
            return Path("picture.svg").read_text(encoding="utf-8")
        finally:
            os.chdir(before)
            if data is None:
                del os.environ["XDG_DATA_HOME"]
            else:
                os.environ["XDG_DATA_HOME"] = data


def _teach() -> str:
    from axletree.kit.kit import demo_kit
    from axletree.mount.rig.build import build_rig
    from axletree.mount.rig.kinematics import align
    from axletree.tell.shared.typeface import by_itself
    from axletree.tell.teach.drawing import latitude_view

    kits = [demo_kit(name) for name in ("courtyard", "paddock")]
    rigs = [(k.site.name, build_rig(k), align(k.site.latitude_deg)) for k in kits]
    return by_itself(latitude_view(rigs))


def _still() -> str:
    from axletree.kit.kit import demo_kit
    from axletree.stages.set_up.pole import pole
    from axletree.stages.set_up.pole_request import PoleRequest
    from axletree.tell.pole.swing_drawing import swing_svg
    from axletree.tell.shared.typeface import by_itself

    kit = demo_kit("courtyard")
    at = datetime(2026, 10, 10, 20, 30, tzinfo=kit.site.zone)
    return by_itself(swing_svg(pole(kit, PoleRequest(at, through_tube=True))))


def main() -> int:
    """Write all pictures, or those that are named."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("names", nargs="*", help=f"some of {', '.join(NAMES)} (all)")
    names = parser.parse_args().names or list(NAMES)
    if unknown := [name for name in names if name not in NAMES]:
        parser.error(f"no picture is called '{unknown[0]}'")
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name in names:
        svg = picture(name)
        (PICTURES / f"{name}.svg").write_text(svg, encoding="utf-8")
        print(f"{name}.svg  {len(svg.encode()) / 1000:.0f} kB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
