"""What is the very best order of a short list?

Dynamic programming over subsets (M. Held and R. M. Karp 1962, J. SIAM 10, 196; with time windows
as in J. Desrosiers et al. 1995): a state is the set of objects shown and the option of the
last one. Of the partial orders that reach a state, only those are kept that no other one beats in
both time and points; whatever follows, the best order grows from one of these. Grows as 2^n: for
lists of up to about nine objects.
"""

from __future__ import annotations

from axletree.evening.order.problem import OrderProblem, Route

# One partial order: ticks used, points, the option before and which of its labels.
_Label = tuple[int, int, int, int]


def solve_exactly(problem: OrderProblem, most: int | None = None) -> Route:
    """The best route of at most `most` stops (None: of any number), proven; an empty one where
    nothing can be shown."""
    options = range(len(problem.show) if most != 0 else 0)
    index = {number: bit for bit, number in enumerate(dict.fromkeys(problem.target.tolist()))}
    bit = [1 << index[int(problem.target[k])] for k in options]
    early, late = problem.early.tolist(), problem.late.tolist()
    show, worth, delay_cost = (
        problem.show.tolist(),
        problem.ranked_worth.tolist(),
        problem.delay_cost.tolist(),
    )
    move, nuisance = problem.move.tolist(), problem.nuisance.tolist()

    fronts: dict[tuple[int, int], list[_Label]] = {}
    for k in options:
        start = max(int(problem.first_move[k]), early[k])
        if start <= late[k]:
            gain = worth[k] - delay_cost[k] * start - int(problem.first_nuisance[k])
            _keep(fronts.setdefault((bit[k], k), []), (start + show[k], gain, -1, -1))
    best: tuple[int, int, int, int] = (0, 0, -1, -1)  # points, set, option, label
    for shown in range(1, 1 << len(index)):
        for k in options:
            front = fronts.get((shown, k))
            if not front:
                continue
            for n, (_, points, _, _) in enumerate(front):
                if points > best[0]:
                    best = (points, shown, k, n)
            if shown.bit_count() == most:
                continue
            for j in options:
                if bit[j] & shown:
                    continue
                grown = fronts.setdefault((shown | bit[j], j), [])
                for n, (time, points, _, _) in enumerate(front):
                    start = max(time + move[k][j], early[j])
                    if start <= late[j]:
                        gain = worth[j] - delay_cost[j] * start - nuisance[k][j]
                        _keep(grown, (start + show[j], points + gain, k, n))
    return _walk_back(problem, fronts, best, bit)


def _keep(front: list[_Label], new: _Label) -> None:
    """Add a label unless another one is as early and as good; labels in use keep their places.

    A front only grows while smaller sets are worked through, so places are fixed once read.
    """
    if any(old[0] <= new[0] and old[1] >= new[1] for old in front):
        return
    front[:] = [old for old in front if not (new[0] <= old[0] and new[1] >= old[1])]
    front.append(new)


def _walk_back(
    problem: OrderProblem,
    fronts: dict[tuple[int, int], list[_Label]],
    best: tuple[int, int, int, int],
    bit: list[int],
) -> Route:
    _, shown, option, label = best
    options: list[int] = []
    while option >= 0:
        options.append(option)
        _, _, before, before_label = fronts[shown, option][label]
        shown, option, label = shown & ~bit[option], before, before_label
    route = problem.run(options[::-1])
    assert route is not None
    return route
