"""How many Messier objects does a hop lead to, how surely, in how many steps, and how long to find?

python benchmarks/hops.py [--experience practised] [--sky 20.5] [--people 0]

All Messier objects above 20 degrees at four evenings of the two demo sites; a 6x30 finder of 7
degrees, the eyepiece 25 mm of 50 degrees on 750 mm. Objects that show in the finder are hopped to
as well. With --people so many simulated ones (tests/find/hop_person.py) follow every hop offered.

2026-11-29, 2 processors shared with others, practised, 20.5 mag/arcsec2:
  153 objects up, all with a hop of 0.7 and more, 97.4 % within four steps; steps 1 to 5:
  53, 45, 35, 16, 4; mean chance told 0.898, met by 30 people a hop 0.911
  hop 11 ms of processor time, worst 37; place and stars about it 8 ms
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "find"))

from hop_person import Person, Told
from hop_scene import messier, sight_of, up

from axletree.find.hopping.answer import HopAnswer, HopOutcome, HopQuestion
from axletree.find.hopping.hop import hop, stars_about

MOST_STEPS = 4


def arrivals(question: HopQuestion, answer: HopAnswer, people: int) -> float:
    """Share of the people who get there."""
    random = np.random.default_rng(1)
    about = stars_about(question)
    told = tuple(
        Told(s.present.row, tuple(p.row for p in s.present.pattern.partners)) for s in answer.steps
    )
    drawn = (Person(about, question.sight, question.skill, random) for _ in range(people))
    return float(np.mean([person.arrives(told) for person in drawn]))


def main() -> None:
    """Hop to them all and print shares and times."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--experience", default="practised")
    parser.add_argument("--sky", type=float, default=20.5)
    parser.add_argument("--people", type=int, default=0)
    options = parser.parse_args()
    sight = sight_of(options.experience, options.sky)
    print(f"limits: finder V {sight.finder_limit_mag:.1f}, eye V {sight.bare_eye_limit_mag:.1f}")
    chances, steps, times, met = [], [], [], []
    count, begin = 0, time.process_time()
    stars_ms = []
    for _, question in up(messier(), sight, options.experience):
        asked = time.process_time()
        stars_ms.append(1e3 * (asked - begin))
        answer = hop(question)
        times.append(1e3 * (time.process_time() - asked))
        count += 1
        if answer.outcome is HopOutcome.HOP and answer.chance is not None:
            chances.append(answer.chance)
            steps.append(len(answer.steps))
            if options.people:
                met.append(arrivals(question, answer, options.people))
        begin = time.process_time()
    good, short = len(chances) / count, sum(n <= MOST_STEPS for n in steps) / count
    print(f"{count} objects up: {100 * good:.1f} % with a hop of 0.7 and more,")
    print(f"  {100 * short:.1f} % with one of at most {MOST_STEPS} steps (must 90, dare 97)")
    print(f"  steps 1, 2, ...: {np.bincount(steps)[1:].tolist()}")
    print(f"  mean chance told: {np.mean(chances):.3f}")
    print(f"hop: {np.median(times):.1f} ms of processor time, worst {max(times):.1f}")
    print("  (must 40, dare 10 with steps and views)")
    print(f"place and stars about it: {np.median(stars_ms):.1f} ms")
    if met:
        arrived = np.array(met)
        print(f"{options.people} people a hop: {arrived.mean():.3f} arrive (must 0.90, dare 0.95),")
        print(f"  at the worst object {arrived.min():.2f}")


if __name__ == "__main__":
    main()
