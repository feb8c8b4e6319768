"""Which spellings mean the same word?

Public: ``fold(text)``.
"""

from __future__ import annotations

import unicodedata

# Letters that no decomposition turns into a plain one.
_PLAIN = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "æ": "ae", "œ": "oe", "ı": "i", "þ": "th", "ħ": "h"}
)


def fold(text: str) -> str:
    """Lower-case letters and digits only, without accents: 'Évora ' and 'EVORA' become 'evora'."""
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text).casefold().translate(_PLAIN)
    plain = text.casefold()
    return plain if plain.isalnum() else "".join(ch for ch in plain if ch.isalnum())
