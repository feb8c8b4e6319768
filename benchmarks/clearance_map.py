"""How fast is clearance over all poses, beside an independent collision library, in one run?

python benchmarks/clearance_map.py [--turns 5]

The whole map is 2 tube sides x 720 hour angles x 360 declinations of a rig with about a hundred
pairs of parts. 'pair by pair' looks at every pair in every pose, as the map need not; the
collision library (coal, a compiled GJK) is timed on some hundred poses and scaled. Peak memory
is this process's own, the library left out. Reach: under 0.5 s and 300 MB; 0.03 s is dared, and
takes the extra axletree[fast] ('compiled': on two threads, the compiling done before the clock
starts).
"""

from __future__ import annotations

import argparse
import importlib.util
import statistics
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

POSES = 2 * 720 * 360
SOME_POSES = 40_000
COAL_POSES = 150


def peak_mb() -> float:
    """Most memory this process has held, megabytes."""
    status = Path("/proc/self/status").read_text()
    line = next(x for x in status.splitlines() if x.startswith("VmHWM"))
    return float(line.split()[1]) * 1024 / 1e6


def median_s(work: Callable[[], Any], turns: int) -> float:
    """Median time by the clock of a few turns, after one to warm up."""
    return both_s(work, turns)[0]


def both_s(work: Callable[[], Any], turns: int) -> tuple[float, float]:
    """Median time of a few turns, after one to warm up: by the clock, and of the processor."""
    work()
    clock, processor = [], []
    for _ in range(turns):
        start, start_cpu = time.perf_counter(), time.process_time()
        work()
        clock.append(time.perf_counter() - start)
        processor.append(time.process_time() - start_cpu)
    return statistics.median(clock), statistics.median(processor)


def with_coal(rig: Any, axes: Any) -> float:
    """Seconds for all pairs that move against each other in all poses of the map, scaled."""
    import coal

    from axletree.mount.rig.kinematics import placed
    from axletree.mount.rig.parts import DECLINATION, HEAD, POLAR

    rng = np.random.default_rng(1)
    start, end = placed(rig, axes, rng.uniform(-12, 12, COAL_POSES),
                        rng.uniform(-180, 180, COAL_POSES))  # fmt: skip
    movers = [k for k in range(len(rig.names)) if rig.frame[k] in (POLAR, DECLINATION)]
    still = [k for k in range(len(rig.names)) if rig.frame[k] <= HEAD]
    lengths = np.linalg.norm(rig.end_m - rig.start_m, axis=1)
    shapes = [
        (coal.Cylinder if f else coal.Capsule)(max(float(r), 1e-9), float(n))
        for r, n, f in zip(rig.radius_m, lengths, rig.flat, strict=True)
    ]
    middles = (start + end) / 2
    request = coal.DistanceRequest()

    def pose(i: int, k: int) -> Any:
        z = (end[i, k] - start[i, k]) / max(lengths[k], 1e-12)
        z = z if lengths[k] > 0 else np.array([0.0, 0.0, 1.0])
        x = np.cross(z, [1.0, 0, 0] if abs(z[0]) < 0.9 else [0, 1.0, 0])
        x /= np.linalg.norm(x)
        return coal.Transform3s(np.stack((x, np.cross(z, x), z), axis=1), middles[i, k])

    placed_shapes = [[pose(i, k) for k in range(len(rig.names))] for i in range(COAL_POSES)]
    begin = time.perf_counter()
    for here in placed_shapes:
        for m in movers:
            for s in still:
                coal.distance(shapes[m], here[m], shapes[s], here[s], request,
                              coal.DistanceResult())  # fmt: skip
    return (time.perf_counter() - begin) / COAL_POSES * POSES


def main() -> None:
    """Time both demo rigs and print ratios."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--turns", type=int, default=5)
    turns = parser.parse_args().turns

    from axletree.kit.kit import demo_kit
    from axletree.mount.clearance.map import clearance_map
    from axletree.mount.clearance.nearest import bodies, distances
    from axletree.mount.rig.build import build_rig
    from axletree.mount.rig.kinematics import align
    from axletree.mount.room.table import room, room_table

    fast = importlib.util.find_spec("numba") is not None
    rng = np.random.default_rng(2)
    h, w = rng.uniform(-12, 12, SOME_POSES), rng.uniform(-180, 180, SOME_POSES)
    H = rng.uniform(-12, 12, (300, 1)) + np.arange(20) / 6
    d = np.degrees(np.arcsin(rng.uniform(-1, 1, (300, 1))))
    rows = []
    for name in ("courtyard", "paddock"):
        kit = demo_kit(name)
        rig, axes = build_rig(kit), align(kit.site.latitude_deg)
        pairs = bodies(rig, axes)
        whole, whole_cpu = both_s(lambda p=pairs: clearance_map(p, "numpy"), turns)
        each = median_s(lambda p=pairs: distances(p, h, w), 2) / SOME_POSES * POSES
        table = room_table(kit, rig=rig, axes=axes)
        evening = median_s(lambda t=table: room(t, H, d), turns)
        rows.append((name, len(pairs.pairs), whole, whole_cpu, each, evening, rig, axes))
    memory = peak_mb()
    compiled = {}
    for name, *_, rig, axes in rows if fast else []:
        pairs = bodies(rig, axes)
        compiled[name] = both_s(lambda p=pairs: clearance_map(p, "compiled"), 4 * turns)
    for name, count, whole, whole_cpu, each, evening, rig, axes in rows:
        try:
            library = with_coal(rig, axes)
        except ModuleNotFoundError:
            library = float("nan")
        print(f"{name}: {count} pairs, {POSES:,} poses")
        print(f"  the map                      {whole:8.3f} s   (processor {whole_cpu:.3f} s)")
        if fast:
            quick, cpu = compiled[name]
            print(f"  the map, compiled            {quick:8.3f} s   (processor {cpu:.3f} s)"
                  f" {whole / quick:.1f} x quicker")  # fmt: skip
        print(f"  pair by pair, vectorised     {each:8.2f} s   {each / whole:7.0f} x")
        print(f"  coal, from Python            {library:8.0f} s   {library / whole:7.0f} x")
        print(f"  room, 300 objects x 20 times {evening:8.3f} s")
    print(f"peak memory {memory:.0f} MB")


if __name__ == "__main__":
    main()
