"""How surely and how well are simulated photographs of the sky read? The table of pictures.

python benchmarks/pictures.py                 60 runs of three pictures, 200 attempts to fool it
python benchmarks/pictures.py --long            1,002 pictures, 1,000 attempts, 2,000 runs of bars
python benchmarks/pictures.py --runs 0 --fool 0 --coverage 2000 --seed 3 --no-speed
python benchmarks/pictures.py --only 15-40° --runs 100 --fool 0 --no-speed --why
python benchmarks/pictures.py --own FOLDER    every run of real pictures, a folder each, tried alone

Each run has a seed of its own, (seed, its number), so that one that failed is drawn again by
itself with --first NUMBER --runs 1. The simulator (tests/pole/sky_camera.py) shares no code with
the solver. Each run draws its own camera, site, sky and faults; the focal length that is said is up
to 10 % wrong.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / "pole"), str(ROOT / "src")]
import sky_camera as cam  # noqa: E402

from axletree.kit.errors import AxletreeError  # noqa: E402
from axletree.kit.kit import demo_kit  # noqa: E402
from axletree.pole.photographs.axis import axis_from_pictures  # noqa: E402
from axletree.pole.photographs.detection import StarImages  # noqa: E402
from axletree.pole.photographs.looking import NEAR_DEG, Where, about_the_pole, everywhere, sky_quads  # noqa: E402
from axletree.pole.photographs.matching import solve  # noqa: E402
from axletree.pole.photographs.run import solve_run  # noqa: E402
from axletree.pole.picture_files.reading import read_picture  # noqa: E402
from axletree.pole.picture_files.shots import PictureFacts, shots_of  # noqa: E402
from axletree.sky.observer import Observer  # noqa: E402
from axletree.sky.time.instants import Instants  # noqa: E402

# Name, widths of the field in degrees, and what the issue of this benchmark asks to be solved.
KINDS = (
    ("2-4°", 2.0, 4.0, 0.95),
    ("4-15°", 4.0, 15.0, 0.98),
    ("15-40°", 15.0, 40.0, 0.98),
    ("phone 60°", 55.0, 68.0, 0.93),
)
LOWEST_UP = 0.34  # sine of the least altitude of a picture's middle: above the trees
WRONG_PART = 0.01  # of the field: an attitude off by more is another one


def drawn(rng, kind, reduced=1):
    """A run at random: site, camera, sky, direction, roll, exposure, turns, axis offsets.

    `reduced`: so many times fewer pixels each way, where many runs are wanted.
    """
    name, low, high, _ = kind
    phone = name.startswith("phone")
    width, height = (2000, 1500) if phone else (1800, 1200)
    width, height = width // reduced, height // reduced
    field = rng.uniform(low, high)
    pixel = 1.8 if phone else rng.uniform(2.4, 6.0)
    focal = width * pixel / 1000.0 / 2.0 / np.tan(np.radians(field) / 2.0)
    latitude = rng.uniform(25, 62) * rng.choice([-1, 1])
    site = cam.Site(latitude, rng.uniform(-180, 180), rng.uniform(0, 1500), 950.0, 8.0)
    camera = cam.Camera(
        focal_mm=focal, f_number=1.8 if phone else rng.uniform(2.8, 6.3), pixel_um=pixel,
        width_px=width, height_px=height, spot_px=rng.uniform(0.8, 2.4),
        coma=rng.choice([0.0, 0.3]), bend_at_corner=rng.uniform(-0.01, 0.01),
        middle_off=tuple(rng.uniform(-0.01, 0.01, 2)), hot_pixels=int(rng.integers(10, 200)),
        seed=int(rng.integers(1 << 30)),
    )  # fmt: skip
    sky = cam.Sky(
        brightness_mag=rng.uniform(18.5, 21.5), gradient=rng.uniform(0, 0.6),
        moon_glow=rng.choice([0.0, 0.0, 1.5]), cloud=rng.choice([0.0, 0.0, 0.33]),
        trees=rng.choice([0.0, 0.0, 0.12]), satellites=int(rng.integers(0, 3)),
    )  # fmt: skip
    scale = field * 3600.0 / width
    trail = rng.uniform(0.0, 10.0)
    driven = bool(rng.random() < 0.3)
    seconds = rng.uniform(2.0, 10.0) if driven else np.clip(trail * scale / 10.0, 1.5, 15.0)
    high_east = rng.uniform(-60, 60, 2)
    axis = cam.axis_direction(site, *high_east)
    if rng.random() < 0.6:
        direction = axis + rng.normal(0, 0.04, 3)
    else:
        azimuth, altitude = rng.uniform(0, 2 * np.pi), np.radians(rng.uniform(35, 75))
        direction = np.array([
            np.cos(altitude) * np.sin(azimuth), np.cos(altitude) * np.cos(azimuth),
            np.sin(altitude),
        ])  # fmt: skip
    middle = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(
        days=int(rng.integers(0, 365)), seconds=float(rng.uniform(0, 86400))
    )
    exposure = cam.Exposure(middle, float(seconds), driven, seed=int(rng.integers(1 << 30)))
    # Turned so that the pictures stay above the trees of the horizon.
    step = rng.uniform(12, 35) * rng.choice([-1, 1])
    return (
        site,
        camera,
        sky,
        direction,
        rng.uniform(0, 360),
        exposure,
        (0, step, 2 * step),
        axis,
        (high_east),
    )


def one_run(rng, kind, folder, reduced=1):
    """What became of a run: a dict of figures."""
    site, camera, sky, direction, roll, exposure, turns, axis, high_east = drawn(rng, kind, reduced)
    ahead = direction / np.linalg.norm(direction)
    if ahead[2] < LOWEST_UP + 0.02:  # however little the axis turns it stays too low
        level = ahead[:2] / np.hypot(*ahead[:2])
        ahead = np.array([*np.cos(np.arcsin(LOWEST_UP + 0.02)) * level, LOWEST_UP + 0.02])
    while True:
        if all((ahead @ cam.turn(axis, np.radians(t)).T)[2] > LOWEST_UP for t in turns):
            break
        turns = tuple(0.5 * t for t in turns)
    taken = cam.run_of(site, camera, sky, ahead, roll, exposure, turns, axis)
    observer = Observer(
        site.latitude_deg, site.longitude_deg, site.elevation_m, site.pressure_hpa,
        site.temperature_c,
    )  # fmt: skip
    files = []
    for k, photograph in enumerate(taken):
        files.append(folder / f"{k}.jpg")
        files[-1].write_bytes(photograph.jpeg)
    facts = PictureFacts(focal_mm=camera.focal_mm * rng.uniform(0.9, 1.1), pixel_um=camera.pixel_um)
    near = Where(ahead + rng.normal(0, 0.04, 3), NEAR_DEG)
    towards = (
        None
        if ahead @ axis > 0.97
        else replace(near, direction=near.direction / np.linalg.norm(near.direction))
    )
    out = {"cloud": bool(sky.cloud), "trees": bool(sky.trees), "moon": bool(sky.moon_glow),
           "coma": bool(camera.coma), "pole": towards is None, "frames": 3, "solved": 0,
           "wrong": 0, "off_px": [], "why": ""}  # fmt: skip
    started = time.process_time()
    shots = shots_of([read_picture(f) for f in files], facts, demo_kit("courtyard"))
    try:
        run = solve_run(shots, observer, towards)
    except AxletreeError as error:
        out["why"] = str(error)
        out["seconds"] = (time.process_time() - started) / 3.0
        return out
    out["seconds"] = (time.process_time() - started) / 3.0
    field = camera.width_px / camera.focal_px
    offs = []
    for one in run.recognised:
        truth = taken[one.which].attitude
        m = one.attitude @ truth.T
        offs.append(np.array([m[2, 1] - m[1, 2], m[0, 2] - m[2, 0]]) / 2.0)
    offs = np.array(offs)
    # Of the lens middle a common shift is no error: it turns with the camera.
    apart = np.linalg.norm(offs - np.median(offs, axis=0), axis=1)
    n = len(offs)
    # Against their own mean n pictures seem better than they are by the root of (n - 1) / n.
    each = np.linalg.norm(offs - offs.mean(axis=0), axis=1) * np.sqrt(n / max(n - 1, 1))
    wrong = (apart > WRONG_PART * field) | (np.linalg.norm(offs, axis=1) > 0.08 * field)
    out["wrong"] = int(wrong.sum())
    out["solved"] = int((~wrong).sum())
    out["off_px"] = list(each[~wrong] * run.lens.focal_px) if n > 1 else []
    if len(run.recognised) == 3:
        try:
            found = axis_from_pictures(run, observer).estimate
        except AxletreeError as error:
            out["why"] = str(error)
            return out
        off = found.values - high_east
        out["axis_off"] = float(np.hypot(*off))
        out["pull2"] = float(off @ found.information @ off)
    return out


def coverage(seed, runs, folder, minutes):
    """How often the true axis lies within the ellipses of 68 and 95 %, with the clock right.

    Of a share p of n runs the standard deviation is sqrt(p (1 - p) / n): 1 % and 0.5 % of 2,000.
    """
    found = {kind[0]: [] for kind in KINDS}
    begun = time.monotonic()
    for k in range(runs):
        if time.monotonic() - begun > 60.0 * minutes:
            break
        kind = KINDS[k % len(KINDS)]
        # Other draws than those of the runs of whole pictures.
        out = one_run(np.random.default_rng([seed, 1, k]), kind, folder, reduced=2)
        if "pull2" in out:
            found[kind[0]].append(out["pull2"])
        if k % 100 == 99:
            print(f"  {k + 1} runs of coverage made", file=sys.stderr, flush=True)
    print("\n| coverage | runs | within 68.3 % | within 95 % | mean of chi-square (2) |")
    print("|---|---|---|---|---|")
    rows = [*found.items(), ("all", [p for pulls in found.values() for p in pulls])]
    for name, pulls in rows:
        if pulls:
            pull = np.array(pulls)
            inside = [np.mean(pull < limit) for limit in (2.2957, 5.9915)]
            said = [f"{100 * p:.1f} ± {100 * np.sqrt(p * (1 - p) / len(pull)):.1f} %"
                    for p in inside]  # fmt: skip
            print(f"| {name} | {len(pull)} | {said[0]} | {said[1]} | {pull.mean():.2f} |")


def fooled(rng, trials):
    """How many pictures of spots that are no stars were recognised; of how many."""
    observer = Observer(50.0, 9.0, 200.0)
    at = Instants.from_datetime(datetime(2026, 11, 12, 21, tzinfo=UTC))
    wrong = 0
    for field in (3.0, 8.0, 25.0, 62.0):
        focal = 900.0 / np.tan(np.radians(field) / 2.0)
        places = [about_the_pole(observer)] + ([everywhere()] if field > 5 else [])
        for where in places:
            sky = sky_quads(where, (1800, 1200), focal, at, observer)
            for _ in range(max(1, trials // 7)):
                n = int(rng.integers(8, 400))
                spots = StarImages(
                    rng.uniform(3, 1797, n), rng.uniform(3, 1197, n), np.sort(rng.random(n))[::-1],
                    np.full(n, 0.1), np.full(n, 5.0), np.ones(n), 1800, 1200,
                )  # fmt: skip
                wrong += solve(spots, sky, focal) is not None
    return wrong, 7 * max(1, trials // 7)


def speed():
    """Seconds and memory of reading and solving two pictures of 24 and of 2 megapixels."""
    rows = []
    for name, width, height in (("24 MP JPEG", 6000, 4000), ("2 MP JPEG", 1736, 1158)):
        camera = cam.Camera(focal_mm=85.0 * width / 6000 * 1.0, pixel_um=4.0, width_px=width,
                            height_px=height, f_number=2.8, spot_px=1.5)  # fmt: skip
        site = cam.Site()
        axis = cam.axis_direction(site, 20.0, 10.0)
        with tempfile.TemporaryDirectory() as folder:
            taken = cam.run_of(site, camera, cam.Sky(), axis, 20.0, cam.Exposure(), (0, -30), axis)
            for k, photograph in enumerate(taken):
                (Path(folder) / f"{k}.jpg").write_bytes(photograph.jpeg)
            said = subprocess.run(
                [sys.executable, __file__, "--one", folder], check=True, capture_output=True,
                text=True,
            ).stdout.split()  # fmt: skip
        rows.append((name, float(said[0]), float(said[1]), float(said[2]), float(said[3])))
    return rows


def one_folder(folder):
    """Seconds a picture (near, whole sky) and memory, megabytes, in a process of its own."""
    from axletree.sky.catalogue.stars import stars

    observer = Observer(50.0, 9.0, 200.0, 989.0, 8.0)
    stars(6.0)
    before = peak_mb()
    figures = []
    for where in (None, everywhere()):
        started = time.process_time()
        pictures = [read_picture(f) for f in sorted(folder.glob("*.jpg"))]
        shots = shots_of(pictures, PictureFacts(), demo_kit("courtyard"))
        solve_run(shots, observer, where)
        figures.append((time.process_time() - started) / 2.0)
        if where is None:
            peak = peak_mb()
    print(*figures, peak, before)


def peak_mb():
    """The most memory that this process itself held, megabytes (Linux)."""
    status = Path("/proc/self/status").read_text()
    return float(status.split("VmHWM:")[1].split()[0]) / 1024.0


def own(folder, site, zone):
    """Real pictures: each folder one run, taken at a site (latitude, longitude, metres)."""
    from axletree.commands.shared.pictures import zone_named
    from axletree.sky.observer import observer_of

    kit = demo_kit("courtyard")
    observer = Observer(*map(float, site.split(","))) if site else observer_of(kit.site)
    facts = PictureFacts(zone=zone_named(zone) if zone else None)
    for run in sorted(p for p in folder.iterdir() if p.is_dir()):
        try:
            pictures = [read_picture(f) for f in sorted(run.iterdir()) if f.suffix != ".txt"]
            found = solve_run(shots_of(pictures, facts, kit), observer, None)
            stars = ", ".join(str(len(r.stars)) for r in found.recognised)
            print(f"{run.name}: {len(found.recognised)} of {len(pictures)} recognised by {stars} "
                  f"stars, {found.rms_px:.2f} px")  # fmt: skip
        except AxletreeError as error:
            print(f"{run.name}: {error}")


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=60)
    parser.add_argument("--fool", type=int, default=200)
    parser.add_argument("--coverage", type=int, default=0, help="runs of half as many pixels")
    parser.add_argument("--long", action="store_true", help="1,002 pictures, 1,000, 2,000 runs")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first run")
    parser.add_argument("--only", choices=[kind[0] for kind in KINDS], help="fields of one kind")
    parser.add_argument("--own", type=Path)
    parser.add_argument("--site", help="of one's own pictures: LAT,LON,METRES (the demo's)")
    parser.add_argument("--zone", help="of one's own camera's clock, where EXIF has none")
    parser.add_argument("--one", type=Path)
    parser.add_argument("--why", action="store_true", help="print each run that failed")
    parser.add_argument("--minutes", type=float, default=1e9, help="no run is begun after these")
    parser.add_argument("--no-speed", action="store_true")
    options = parser.parse_args()
    if options.one or options.own:
        if options.one:
            one_folder(options.one)
        else:
            own(options.own, options.site, options.zone)
        return
    if options.long:
        options.runs, options.fool, options.coverage = 334, 1000, 2000
    kinds = [k for k in KINDS if options.only in (None, k[0])]
    found = {kind[0]: [] for kind in kinds}
    with tempfile.TemporaryDirectory() as folder:
        begun = time.monotonic()
        for k in range(options.first, options.first + options.runs):
            if time.monotonic() - begun > 60.0 * options.minutes:
                break
            kind = kinds[k % len(kinds)]
            out = one_run(np.random.default_rng([options.seed, k]), kind, Path(folder))
            found[kind[0]].append(out)
            if options.why and (out["solved"] < 3 or out.get("axis_off", 0) > 1.0):
                print(k, kind[0], {n: v for n, v in out.items() if n != "off_px"}, flush=True)
    if options.runs:
        table(found)
    if options.coverage:
        with tempfile.TemporaryDirectory() as folder:
            coverage(options.seed, options.coverage, Path(folder), options.minutes)
    if options.fool:
        wrong, trials = fooled(np.random.default_rng([options.seed, 2]), options.fool)
        print(f"\nSpots at random recognised: {wrong} of {trials}")
    if not options.no_speed:
        print("\n| | s a picture | whole sky | peak MB | before MB |\n|---|---|---|---|---|")
        for name, near, whole, peak, before in speed():
            print(f"| {name} | {near:.2f} | {whole:.2f} | {peak:.0f} | {before:.0f} |")


def table(found):
    """The main table, then the shares by fault."""
    print("| field | pictures | solved | wrong | px 50/95 % | axis 50/95 % | in 68/95 % bars | s |")
    print("|---|---|---|---|---|---|---|---|")
    for name, runs in found.items():
        if not runs:
            continue
        frames = sum(r["frames"] for r in runs)
        px = np.concatenate([r["off_px"] for r in runs] or [[0.0]])
        axis = np.array([r["axis_off"] for r in runs if "axis_off" in r])
        pull = np.array([r["pull2"] for r in runs if "pull2" in r])
        # Of two dimensions: 68.3 % within chi-square 2.30, 95 % within 5.99.
        bars = f"{100 * np.mean(pull < 2.30):.0f}/{100 * np.mean(pull < 5.99):.0f}"
        print(
            f"| {name} | {frames} | {100 * sum(r['solved'] for r in runs) / frames:.1f} % | "
            f"{sum(r['wrong'] for r in runs)} | {np.quantile(px, 0.5):.3f}/"
            f"{np.quantile(px, 0.95):.3f} | {np.quantile(axis, 0.5):.3f}′/"
            f"{np.quantile(axis, 0.95):.3f}′ | {bars} | "
            f"{np.median([r['seconds'] for r in runs]):.2f} |"
        )
    every = [r for runs in found.values() for r in runs]
    print("\n| fault | pictures | solved |\n|---|---|---|")
    for fault in ("cloud", "trees", "moon", "coma", "pole"):
        for has in (True, False):
            some = [r for r in every if r[fault] is has]
            if some:
                frames = sum(r["frames"] for r in some)
                share = 100 * sum(r["solved"] for r in some) / frames
                print(f"| {'' if has else 'no '}{fault} | {frames} | {share:.1f} % |")


if __name__ == "__main__":
    main()
