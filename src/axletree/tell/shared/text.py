"""In which sentences is told what every stage may have to say: of the Earth's rotation?"""

from __future__ import annotations

from axletree.evening.sheet.rotation_words import rotation_words

__all__ = ["rotation_words"]
