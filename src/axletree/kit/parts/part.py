"""What do all parts of a kit have in common?"""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

# Whatever the unit, nothing that a person owns measures a millionth or a million of it; what
# lies beyond would only come out as a nonsensical answer far from its cause.
LEAST, MOST = 1e-6, 1e6
Positive = Annotated[float, Field(ge=LEAST, le=MOST, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(ge=0, le=MOST, allow_inf_nan=False)]
Number = Annotated[float, Field(ge=-MOST, le=MOST, allow_inf_nan=False)]
Azimuth = Annotated[float, Field(ge=-360, le=360, allow_inf_nan=False)]
Altitude = Annotated[float, Field(ge=-90, le=90, allow_inf_nan=False)]


class Part(BaseModel):
    """A frozen part of the kit; keys that it does not know are refused.

    The files of parts don't put off their annotations (`from __future__ import annotations`):
    pydantic would then compile each of 250 anew, at every start.
    """

    model_config = ConfigDict(
        extra="forbid", frozen=True, strict=False, validate_default=True,
        defer_build=True,  # one checker for the whole kit when it is read, not one a class as well
    )  # fmt: skip
