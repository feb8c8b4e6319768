"""How well does one exposure in which the hour axis was turned tell the axis?

python benchmarks/long_exposures.py --runs 40 --seed 1     a simulated exposure each, about the pole

Fields of 4 to 30 degrees, 8 to 20 s at rest, then a turn of 20 to 40 degrees in 4 to 10 s; the
sky, site, roll and axis at random, the focal length said up to 10 % wrong, the clock right. The
simulator (tests/pole/sky_camera_long.py) shares no code with the solver.
"""

from __future__ import annotations

import argparse
import io
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests" / "pole"), str(ROOT / "src")]
import sky_camera as cam  # noqa: E402
from sky_camera_long import long_photograph  # noqa: E402

from axletree.kit.errors import AxletreeError  # noqa: E402
from axletree.pole.long_exposure.solve import axis_from_long_exposure  # noqa: E402
from axletree.pole.photographs.shot import Shot  # noqa: E402
from axletree.sky.observer import Observer  # noqa: E402
from axletree.sky.time.instants import Instants  # noqa: E402


def one(rng):
    """The field in degrees, how far off the axis was told (arcminutes) and chi-square (2) of it;
    or the field and why it was refused."""
    site = cam.Site(rng.uniform(25, 62) * rng.choice([-1, 1]), rng.uniform(-180, 180), 200.0)
    field = rng.uniform(4.0, 30.0)
    pixel = rng.uniform(4.0, 7.0)
    focal = 1200 * pixel / 1000.0 / 2.0 / np.tan(np.radians(field) / 2.0)
    camera = cam.Camera(
        focal_mm=focal, f_number=4.0, width_px=1200, height_px=800, pixel_um=pixel,
        spot_px=rng.uniform(0.9, 1.8), bend_at_corner=rng.uniform(-0.01, 0.01),
    )  # fmt: skip
    high_east = rng.uniform(-60, 60, 2)
    axis = cam.axis_direction(site, *high_east)
    attitude = cam.attitude_towards(axis + rng.normal(0, 0.02, 3), rng.uniform(0, 360))
    moment = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(
        days=int(rng.integers(0, 365)), seconds=float(rng.uniform(0, 86400))
    )
    exposure = cam.Exposure(moment, rng.uniform(8.0, 20.0), seed=int(rng.integers(1 << 30)))
    sky = cam.Sky(brightness_mag=rng.uniform(19.0, 21.5))
    body = long_photograph(
        site, camera, sky, attitude, exposure, rng.uniform(4.0, 10.0),
        rng.uniform(20.0, 40.0) * rng.choice([-1, 1]), axis,
    )  # fmt: skip
    with Image.open(io.BytesIO(body)) as image:
        grey = np.asarray(image.convert("L"), dtype=np.float32)
    said = camera.focal_px * rng.uniform(0.9, 1.1)
    observer = Observer(
        site.latitude_deg, site.longitude_deg, site.elevation_m, site.pressure_hpa,
        site.temperature_c,
    )  # fmt: skip
    try:
        shot = Shot("long.jpg", grey, Instants.from_datetime(moment), said)
        found = axis_from_long_exposure(shot, observer).estimate
    except AxletreeError as error:
        return field, str(error)
    off = found.values - high_east
    return field, float(np.hypot(*off)), float(off @ found.information @ off)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--why", action="store_true")
    options = parser.parse_args()
    found = [one(np.random.default_rng([options.seed, k])) for k in range(options.runs)]
    print("| field | exposures | told | off 50/90 % | in 68/95 % bars |\n|---|---|---|---|---|")
    for low, high in ((4.0, 15.0), (15.0, 30.0), (4.0, 30.0)):
        own = [f for f in found if low <= f[0] < high]
        told = [f for f in own if len(f) == 3]
        if not told:
            continue
        off, pull = (np.array([f[k] for f in told]) for k in (1, 2))
        print(
            f"| {low:g}-{high:g}° | {len(own)} | {len(told)} | {np.quantile(off, 0.5):.2f}′/"
            f"{np.quantile(off, 0.9):.2f}′ | {100 * np.mean(pull < 2.2957):.0f}/"
            f"{100 * np.mean(pull < 5.9915):.0f} |"
        )
    if options.why:
        for k, f in enumerate(found):
            if len(f) == 2 or f[1] > 1.5:
                print(k, *f)


if __name__ == "__main__":
    main()
