"""Write docs/evening.schema.json from the document's models: run it after changing them."""

from __future__ import annotations

import json
from pathlib import Path

from axletree.evening.document import json_schema


def main() -> None:
    """Write the schema."""
    file = Path(__file__).parents[1] / "docs" / "evening.schema.json"
    file.write_text(json.dumps(json_schema(), indent=1, ensure_ascii=False) + "\n")


if __name__ == "__main__":
    main()
