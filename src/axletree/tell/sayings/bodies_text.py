"""What may be said of the Moon and the planets? Facts from memory."""

from __future__ import annotations

from axletree.tell.sayings.saying import Saying

BODIES = {
    "Moon": Saying(
        "Our Moon, some thirty Earths laid side by side away, and a quarter of the Earth's width",
        None,
        "Its craters are scars of impacts that nothing has worn down, for it has neither wind nor "
        "rain.",
    ),
    "Mercury": Saying(
        "The innermost planet, a little larger than our Moon", None,
        "It turns three times while it goes round the Sun twice.",
    ),
    "Venus": Saying(
        "A planet nearly as large as the Earth, under clouds that never open", None,
        "At its ground it is over 450 °C hot, hotter than on Mercury.",
    ),
    "Mars": Saying(
        "A planet half as wide as the Earth, red with rust", None,
        "Its day is 40 minutes longer than ours, and it has winters with ice at its poles.",
    ),
    "Jupiter": Saying(
        "The largest planet, eleven Earths wide", None,
        "It turns once in ten hours, which flattens it so much that the eye can see it.",
    ),
    "Saturn": Saying(
        "A planet nine Earths wide, with rings of ice", None,
        "The rings are over 270,000 km across, but only some tens of metres thick.",
    ),
    "Uranus": Saying(
        "A planet of ice and gas, four Earths wide", None,
        "It lies on its side: each pole has some 40 years of day and as many of night.",
    ),
    "Neptune": Saying(
        "The outermost planet, four Earths wide; its light is four hours old", None,
        "It was reckoned from its pull on Uranus before anybody knew it; that was in 1846.",
    ),
}  # fmt: skip
