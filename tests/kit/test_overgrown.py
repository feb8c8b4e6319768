"""Texts that a TOML reader would not come to an end with (found through the app's own schema)."""

from __future__ import annotations

import time

import pytest

from axletree.kit.kit import DEMO_KITS, check_text, demo_text
from axletree.kit.reading.overgrown import LONGEST_LINE, MOST_LINES, overgrown


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a" + ".a" * 50_000 + " = 1", "longer than any line"),
        ("x = 1\na" + " . a" * 400 + " = 1", "deeper than any key"),
        ('"a b"' + '."a b"' * 30 + " = 1", "deeper than any key"),
        ("[a" + ".b" * 40 + "]", "deeper than any key"),
        ("b = {a" + ".b" * 40 + " = 1}", "deeper than any key"),
        ("a = " + "9" * 5_000, "hundreds of digits"),
        ("a = 0x" + "f" * 5_000, "hundreds of digits"),
        ("a = " + "9_" * 2_000 + "9", "hundreds of digits"),
        ("a" + "\nb" * MOST_LINES, "a kit has at most"),
        ("".join(f"[a{k}]\n" for k in range(15_000)), "a kit has at most"),
    ],
    ids=lambda v: v[:12],
)
def test_what_no_kit_can_be_is_told_at_once(text: str, said: str) -> None:
    begun = time.perf_counter()
    kit, problems = check_text(text)
    assert kit is None
    assert len(problems) == 1
    assert said in problems[0].message
    assert time.perf_counter() - begun < 0.5


@pytest.mark.parametrize(
    "text",
    [
        *[demo_text(name) for name in DEMO_KITS],
        "# " + "." * 200 + "\n# e.g. one. two. three and so on, v1.2.3.4\n",
        "a = [" + ", ".join(f"[{k}.5, 12.25]" for k in range(360)) + "]",
        "# " + "-" * (LONGEST_LINE - 2),
    ],
    ids=lambda v: v[:12],
)
def test_what_a_kit_can_be_passes(text: str) -> None:
    assert overgrown(text) is None
