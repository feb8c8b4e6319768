"""Of what is each part of the evening's document made: frozen, nothing unknown in it?"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field


def code_field() -> Any:
    """What stands before it, as a code for programs."""
    return Field(default=None, description="as a code; None: the sheet was older")


def codes_field() -> Any:
    return Field(default=None, description="as codes, in the same order; None: older sheet")


class DocumentPart(BaseModel):
    """A frozen part of the document; nothing unknown, no nan, no infinity."""

    # Checkers are made when the first sheet is, and not at all by commands that write none.
    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, defer_build=True)
