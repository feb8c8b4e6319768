"""What is the very best order of a short list?

Dynamic programming over subsets (M. Held and R. M. Karp 1962, J. SIAM 10, 196; with time windows
as in J. Desrosiers et al. 1995): a state is the set of objects shown and the way the last one was
shown. Of the partial orders that reach a state, only those are kept that no other one beats in
both time and points; whatever follows, the best order grows from one of these. Grows as 2^n: for
lists of up to about nine objects.
"""

from __future__ import annotations

from axletree.evening.order.problem import Puzzle, Route

# One partial order: ticks used, points, the way before and which of its labels.
_Label = tuple[int, int, int, int]


def solve_exactly(puzzle: Puzzle) -> Route:
    """The best route, proven; an empty one where nothing can be shown."""
    ways = range(len(puzzle.show))
    index = {thing: bit for bit, thing in enumerate(dict.fromkeys(puzzle.thing.tolist()))}
    bit = [1 << index[int(puzzle.thing[k])] for k in ways]
    early, late = puzzle.early.tolist(), puzzle.late.tolist()
    show, worth, drag = puzzle.show.tolist(), puzzle.ranked_worth.tolist(), puzzle.drag.tolist()
    move, nuisance = puzzle.move.tolist(), puzzle.nuisance.tolist()

    fronts: dict[tuple[int, int], list[_Label]] = {}
    for k in ways:
        start = max(int(puzzle.first_move[k]), early[k])
        if start <= late[k]:
            gain = worth[k] - drag[k] * start - int(puzzle.first_nuisance[k])
            _keep(fronts.setdefault((bit[k], k), []), (start + show[k], gain, -1, -1))
    best: tuple[int, int, int, int] = (0, 0, -1, -1)  # points, set, way, label
    for shown in range(1, 1 << len(index)):
        for k in ways:
            front = fronts.get((shown, k))
            if not front:
                continue
            for n, (_, points, _, _) in enumerate(front):
                if points > best[0]:
                    best = (points, shown, k, n)
            for j in ways:
                if bit[j] & shown:
                    continue
                target = fronts.setdefault((shown | bit[j], j), [])
                for n, (time, points, _, _) in enumerate(front):
                    start = max(time + move[k][j], early[j])
                    if start <= late[j]:
                        gain = worth[j] - drag[j] * start - nuisance[k][j]
                        _keep(target, (start + show[j], points + gain, k, n))
    return _walk_back(puzzle, fronts, best, bit)


def _keep(front: list[_Label], new: _Label) -> None:
    """Add a label unless another one is as early and as good; labels in use keep their places.

    A front only grows while smaller sets are worked through, so places are fixed once read.
    """
    if any(old[0] <= new[0] and old[1] >= new[1] for old in front):
        return
    front[:] = [old for old in front if not (new[0] <= old[0] and new[1] >= old[1])]
    front.append(new)


def _walk_back(
    puzzle: Puzzle,
    fronts: dict[tuple[int, int], list[_Label]],
    best: tuple[int, int, int, int],
    bit: list[int],
) -> Route:
    _, shown, way, label = best
    ways: list[int] = []
    while way >= 0:
        ways.append(way)
        _, _, before, before_label = fronts[shown, way][label]
        shown, way, label = shown & ~bit[way], before, before_label
    route = puzzle.run(ways[::-1])
    assert route is not None
    return route
