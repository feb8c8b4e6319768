"""How is a chance put into words?"""

from __future__ import annotations


def chance_words(chance: float) -> str:
    """A chance as people say it: '88 %'; near certain and near nothing as such."""
    if chance >= 0.975:
        return "nearly certain"
    if chance < 0.05:
        return "hardly any"
    return f"{100.0 * chance:.0f} %"
