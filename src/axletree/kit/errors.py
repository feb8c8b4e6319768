"""What does a person read when something they gave is wrong?"""

from __future__ import annotations


class AxletreeError(ValueError):
    """One line for the person: what is wrong, where, and what would be right."""
