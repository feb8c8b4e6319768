"""The handbook's worked examples give what stands beside them.

Each page's commands are run and its programs executed; words must be the same, numbers may
differ by one in their last printed digit. `tools/run_examples.py --refresh` brings the pages up
to date after a deliberate change.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import run_examples as examples

PAGES = examples.pages()
# Pages about everything rather than one stage of the job.
OTHER = ("index", "sure", "accuracy", "commands", "library", "words")


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.stem)
def test_every_example_gives_what_the_page_says(page: Path) -> None:
    _, wrong = examples.run_page(page.read_text(encoding="utf-8"), page.stem)
    assert not wrong, "\n".join([*wrong, "tools/run_examples.py --refresh brings it up to date"])


PAGE = """
```text numbers.txt
1 2 3
```

```console
$ axletree level --bubble 1.5 135
Lengthen leg 1 by {mm} mm and leg 3 by 10 mm.
...
```

```python
x = 1.0
```

```python
print(open("numbers.txt").read().split())  # {says}
print(round(x / 3, 3))  # {third}
```
"""


@pytest.mark.parametrize(
    ("mm", "says", "third", "wrong"),
    [
        ("14", "['1', '2', '3']", "0.333", 0),
        ("14", "['1', '2', '3']", "0.334", 0),
        ("17", "['1', '2', '3']", "0.333", 1),
        ("14", "['1', '2', '4']", "0.335", 1),
        ("14", "['1', '2', '5']", "0.335", 2),
        ("14", "[1, 2, 3]", "0.333", 1),
    ],
)
def test_a_wrong_figure_is_found_and_refreshed(mm: str, says: str, third: str, wrong: int) -> None:
    text = PAGE.format(mm=mm, says=says, third=third)
    _, found = examples.run_page(text, "page")
    assert len(found) == wrong
    mended, _ = examples.run_page(text, "page", refresh=True)
    assert examples.run_page(mended, "page")[1] == []


def test_left_out_lines_and_added_ones() -> None:
    printed = ["a 1", "b 2", "c 3"]
    assert examples.matched(("a 1", "...", "c 3"), printed) == ""
    assert examples.matched(("a 1", "c 3"), printed) != ""
    assert examples.matched(("a 1", "b 2"), printed) != ""
    assert examples.matched(("...", "b 2", "..."), printed) == ""
    assert examples.matched(("...", "d 2", "..."), printed) != ""


def test_a_print_without_its_result_is_refused() -> None:
    _, found = examples.run_page("```python\nprint(1)\n```\n", "page")
    assert "every print needs its result" in found[0]


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.stem)
def test_pages_fit_a_printed_sheet_and_a_phone(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    for block in examples.blocks_of(text):
        assert max(map(len, block.lines)) <= 90, f"{page.name}: {max(block.lines, key=len)}"
    # The library's page is for a desk: one example a stage.
    longest = 14_000 if page.stem == "library" else 9_000
    assert len(text) < longest, f"{page.name} is longer than {longest} letters"
    for part in ("## Worked example", "## Limits") if page.stem not in OTHER else ():
        assert part in text, f"{page.name} has no '{part}'"
