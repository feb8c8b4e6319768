"""Which ways to write a quantity does no surface use? (docs/words.md)"""

from __future__ import annotations

import re

# What no told surface holds, each with something that it would say if it did.
FORBIDDEN = {
    "a day as in a file": (r"\b\d{4}-\d{2}-\d{2}\b", "night of 2026-10-10"),
    "an hour of the dial as a time": (r"\d:\d{2} on the dial", "at 5:56 on the dial"),
    "half a day's hours": (r"\d ?[ap]\.?m\b", "at 9 pm"),
    "a hyphen for a minus": (r"(?<![\w.,-])-\d", "Sirius, -1.4 mag"),
    "nothing with a sign": (r"−0(\.0+)?(?=[°′″ ]|$)", "−0.0°"),
    "a height in millimetres": (r"\d mm (up|high|above)\b", "570 mm up"),
    "a metre and more in millimetres": (r"\b\d{4,} mm\b", "1200 mm"),
    "a height to one place": (r"(?<![\d.])\d\.\d m (up(?! the plan)|high)\b", "0.6 m up"),
    "arcminutes by a typewriter": (r"\d['\"]", "37.5' from the middle"),
    "another name of the pole's star": (r"Polaris Australis|[Ss]igma Oct|Σ", "sigma Octantis"),
    "a nought before the day": (
        r"\b0\d (January|February|March|April|May|June|July|August"
        r"|September|October|November|December)",
        "Saturday 05 December",
    ),
    "a comma after the weekday": (r"day, \d+ [A-Z][a-z]+ \d{4}", "Saturday, 5 December 2026"),
    "another word for anticlockwise": (r"counter-?clockwise", "2 turns counter-clockwise"),
    "a magnification by a letter": (r"\b\d+ ?[x×](?! ?[\d\w])", "6 mm, 125x"),
    "a circle's error in its own letters": (r"± \d+m\b", "+3h 38m ± 5m"),
    "a room after a lone ±": (r"(?:^|[(,:;]|\b(?:to|from|about)) ?± \d", "0.5° (± 1.1° with it)"),
    "a room before ± alone": (r"[\d°′″%] ±\d", "20 ±7 an hour"),
    "an hour angle beyond the half day": (r"[+−](1[3-9]|2\d)h", "+22h 00m"),
    "a unit beside its sign": (r"\d ?(deg|arcmin|arcsec)\b", "12 deg"),
}
# Where it is meant: what somebody types, or copies into another machine.
MEANT = re.compile(r"--\w+ \S+|kit file's name: \S+|mm f/\d")


def wrong_in(surface: str, text: str) -> list[str]:
    """Each forbidden notation in a text, with its line."""
    found = []
    for line in text.splitlines():
        plain = MEANT.sub("", line)
        found += [
            f"{surface}: {name}: {line.strip()[:120]}"
            for name, (pattern, _) in FORBIDDEN.items() if re.search(pattern, plain)
        ]  # fmt: skip
    return found
