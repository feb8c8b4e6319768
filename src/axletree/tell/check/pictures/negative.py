"""How is a picture of the night laid on paper? Small, stretched, dark for light."""

from __future__ import annotations

import base64
import io
import math

import numpy as np

from axletree.sky.arrays import Singles

_PIXELS = 1100
_QUALITY = 72
_LIGHTEST = 238.0  # a paper a little darker than the sheet


def negative(grey: Singles) -> str:
    """The picture, smaller, stretched so that stars show and dark for light as an ink drawing is,
    as an address that holds it."""
    from PIL import Image

    step = max(1, math.ceil(max(grey.shape) / _PIXELS))
    height, width = (n // step * step for n in grey.shape)
    small = (
        grey[:height, :width].reshape(height // step, step, width // step, step).max(axis=(1, 3))
    )
    dark, bright = np.percentile(small, [20.0, 99.8])
    shown = np.clip((small - dark) / max(float(bright - dark), 1.0), 0.0, 1.0) ** 0.7
    out = io.BytesIO()
    Image.fromarray((_LIGHTEST - (_LIGHTEST - 20.0) * shown).astype(np.uint8)).save(
        out, "JPEG", quality=_QUALITY
    )
    return "data:image/jpeg;base64," + base64.b64encode(out.getvalue()).decode("ascii")
