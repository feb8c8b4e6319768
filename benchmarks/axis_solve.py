"""How long does it take to solve for the polar axis? Must: under 50 ms warm; frames 1.5 s in all.

python benchmarks/axis_solve.py

Each solver on made-up measurements (no noise matters for speed), best of twenty turns after one
to warm up; then `axletree check frames` on three frame files as a whole process, beside the bare
start of astropy and the reading of the same three headers with its WCS (also whole processes).
Set-up of the frames is not timed. Needs the test extras.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "pole"))

ASTROPY = """
import sys, warnings
warnings.simplefilter("ignore")
from astropy.io import fits
from astropy.wcs import WCS
for name in sys.argv[1:]:
    WCS(fits.getheader(name)).pixel_to_world(600, 400)
"""


def best_ms(work: Callable[[], Any], turns: int = 20) -> float:
    """Best time of some turns, after one to warm up."""
    work()
    times = []
    for _ in range(turns):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) * 1000.0


def process_s(words: list[str], folder: str) -> float:
    """Best time of five whole processes, after one to warm up."""
    times = []
    for _ in range(6):
        start = time.perf_counter()
        subprocess.run(words, cwd=folder, check=True, stdout=subprocess.DEVNULL)
        times.append(time.perf_counter() - start)
    return min(times[1:])


def main() -> None:
    """Print the table."""
    import camera
    import simulator as sim
    from astropy.io import fits

    from axletree.pole.drift.solve import WatchedStars, solve_drift
    from axletree.pole.frames.solve import axis_from_frames
    from axletree.pole.picture.frame_file import frame_from_headers
    from axletree.pole.readings.observed import CircleErrors, CircleReadings
    from axletree.pole.readings.solve import solve_readings
    from axletree.pole.solution.combine import combine
    from axletree.pole.solution.estimate import AxisEstimate
    from axletree.sky.observer import Observer

    place = sim.Place(38.5712, 978.6, 12.0, 14.0, -9.0)
    observer = Observer(38.5712, -7.9093, 292.0, pressure_hpa=978.6, temperature_c=12.0)
    rng = np.random.default_rng(1)
    H, d = sim.random_stars(rng, place, 10)
    drift = sim.drift_arcsec(place, H, d, 600.0) + rng.normal(0.0, 1.0, 10)
    swapped = drift * np.where(np.arange(10) == 3, -1.0, 1.0)
    side = np.where(np.arange(10) % 2, 1.0, -1.0)
    h, dec = sim.centred_star(place, side, H, d, 8.0, 4.0)
    names = np.where(side > 0, "east", "west")
    wrong = d + np.where(np.arange(10) == 4, 10.0, 0.0)
    headers = camera.frame_headers(
        place, -7.9093, 292.0, [-3.0, -1.0, 1.5], 60.0, "2026-12-05T20:30:00", scale_arcsec=3.0
    )

    def circles(shown: Any) -> Any:
        return solve_readings(
            CircleReadings(h, dec, names, H, shown), observer, CircleErrors(5.0, 5.0)
        )

    rows = {
        "drift, 10 stars": lambda: solve_drift(WatchedStars(H, d, 600.0, drift, 1.0), observer),
        "drift, one sign swapped": lambda: solve_drift(
            WatchedStars(H, d, 600.0, swapped, 1.0), observer
        ),
        "readings, 10 stars": lambda: circles(d),
        "readings, one mistaken": lambda: circles(wrong),
        "frames, 3 from headers": lambda: axis_from_frames(
            [frame_from_headers([header], "f") for header in headers], observer
        ),
        "combine, 10 measurements": lambda: combine(
            [AxisEstimate(14.0 + 0.1 * k, -9.0, np.eye(2)) for k in range(10)]
        ),
    }
    for name, work in rows.items():
        print(f"{name:28} {best_ms(work):7.2f} ms   (must: under 50)")
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for k, header in enumerate(headers):
            held = fits.Header({w: v for w, v in header.items() if not w.startswith("NAXIS")})
            files.append(f"f{k}.fits")
            data = np.zeros((800, 1200), np.int16)
            fits.PrimaryHDU(data, held).writeto(Path(folder) / files[-1])
        command = [sys.executable, "-m", "axletree.cli", "check", "frames", *files, "--no-notes"]
        whole = process_s(command, folder)
        bare = process_s([sys.executable, "-c", "import astropy.wcs, astropy.io.fits"], folder)
        theirs = process_s([sys.executable, "-c", ASTROPY, *files], folder)
        print(f"{'check frames, whole process':28} {whole:7.2f} s    (must: under 1.5)")
        print(f"{'astropy, import alone':28} {bare:7.2f} s")
        ratio = theirs / whole
        print(f"{'astropy, 3 headers read':28} {theirs:7.2f} s    ({ratio:.1f} times ours)")


if __name__ == "__main__":
    main()
