"""Write docs/evening.schema.json and docs/schemas from the models: run it after changing them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from axletree.tell.evening.document import json_schema
from axletree.tell.schemas import FORMS, stage_schema

DOCS = Path(__file__).parents[1] / "docs"


def main() -> None:
    """Write the schemas."""
    _write(DOCS / "evening.schema.json", json_schema())
    for name in FORMS:
        _write(DOCS / "schemas" / f"{name}.schema.json", stage_schema(name))


def _write(file: Path, schema: dict[str, Any]) -> None:
    file.parent.mkdir(exist_ok=True)
    file.write_text(json.dumps(schema, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
