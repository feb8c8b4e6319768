"""What is refused, with which status and which sentence?"""

from __future__ import annotations


class RefusedError(Exception):
    """A request that is not answered: the HTTP status and the sentence to say."""

    def __init__(self, status: int, words: str) -> None:
        super().__init__(words)
        self.status, self.words = status, words
