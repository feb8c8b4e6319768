"""Cheapest ways through small graphs, against networkx."""

from __future__ import annotations

import networkx as nx
import numpy as np
import pytest

from axletree.find.hopping.shortest import cheapest_path


def graph(seed: int) -> tuple[nx.DiGraph, np.ndarray]:
    """Thirty random points, moves between near ones that cost their length and something."""
    random = np.random.default_rng(seed)
    at = random.uniform(0, 1, (30, 2))
    g = nx.DiGraph()
    g.add_nodes_from(range(30))
    for a in range(30):
        for b in range(30):
            far = float(np.hypot(*(at[a] - at[b])))
            if a != b and far < 0.3:
                g.add_edge(a, b, weight=far + float(random.uniform(0, 0.3)))
    return g, at


@pytest.mark.parametrize("led", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_as_cheap_as_networkx(seed: int, led: bool) -> None:
    g, at = graph(seed)
    begin, ends = {0: 0.2, 1: 0.0}, {28: 0.1, 29: 0.0}
    h = g.copy()
    h.add_weighted_edges_from([("in", n, c) for n, c in begin.items()])
    h.add_weighted_edges_from([(n, "out", c) for n, c in ends.items()])
    met: list[int] = []

    def onward(node: int) -> list[tuple[int, float]]:
        met.append(node)
        return [(b, e["weight"]) for b, e in g[node].items()]

    def rest(node: int) -> float:
        return min(float(np.hypot(*(at[node] - at[e]))) for e in ends) if led else 0.0

    found = cheapest_path(begin.items(), onward, ends.get, rest)
    if not nx.has_path(h, "in", "out"):
        assert found is None
        return
    assert found is not None
    cost, path = found
    assert cost == pytest.approx(nx.dijkstra_path_length(h, "in", "out"))
    assert nx.path_weight(h, ["in", *path, "out"], "weight") == pytest.approx(cost)
    assert len(met) == len(set(met)), "no node is looked at twice"
    assert cheapest_path(begin.items(), onward, ends.get, rest, cost + 1e-9) == found
    assert cheapest_path(begin.items(), onward, ends.get, rest, cost - 1e-9) is None


def test_no_way_at_all() -> None:
    assert cheapest_path([(0, 0.0)], lambda n: [], lambda n: None) is None
    assert cheapest_path([], lambda n: [], lambda n: 0.0) is None
