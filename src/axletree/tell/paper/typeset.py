"""How does a page become a PDF? Tagged (PDF/UA-1), its typeface embedded, always the same bytes."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Final, Literal

from axletree.kit.errors import AxletreeError

Paper = Literal["a4", "letter"]
# What the typesetter calls each paper.
TYPST_PAPER: Final[Mapping[Paper, str]] = {"a4": "a4", "letter": "us-letter"}


def typeset(sources: Mapping[str, bytes], made_at: datetime) -> bytes:
    """The PDF of 'main.typ' and what it reads. Refuses what the typesetter refuses."""
    import typst

    try:
        # The package's type hints know no dict of files yet, its documentation does.
        made = typst.compile(  # type: ignore[call-overload]
            dict(sources), format="pdf", pdf_standards=["ua-1"], ignore_system_fonts=True,
            timestamp=made_at.astimezone(UTC),
        )  # fmt: skip
    except typst.TypstError as error:
        raise AxletreeError(f"the paper could not be typeset: {error}") from None
    assert isinstance(made, bytes)
    return made
