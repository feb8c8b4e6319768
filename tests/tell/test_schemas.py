"""What a stage prints as JSON has the form that is published for it."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from axletree.cli import main
from axletree.tell.schemas import FORMS, stage_schema

DOCS = Path(__file__).parents[2] / "docs"
_spec = importlib.util.spec_from_file_location(
    "questions", Path(__file__).with_name("test_words_are_not_data.py")
)
assert _spec is not None
assert _spec.loader is not None
questions = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(questions)


def form_of(words: list[str]) -> str:
    """A command with actions has a form each: 'kit check' prints that of 'kit-check'."""
    if "--best-nights" in words:
        return "objects-best-nights"
    if words[:2] == ["log", "search"]:
        return ""
    return next((n for n in ("-".join(words[:2]), words[0]) if n in FORMS), "")


def keys_of(schema: dict[str, Any]) -> set[str]:
    """The keys of a form; of one that has several, those of the forms that it may have."""
    forms = [
        schema,
        *(schema["$defs"][f["$ref"].rsplit("/", 1)[-1]] for f in schema.get("anyOf", ())),
    ]
    return {key for form in forms for key in form.get("properties", ())}


ASKED = [words for words in questions.QUESTIONS if "--json" in words and form_of(words)]


def test_every_form_is_asked_for() -> None:
    assert {form_of(words) for words in ASKED} == set(FORMS)


@pytest.mark.parametrize("name", FORMS)
def test_the_published_schema_is_that_of_the_models(name: str) -> None:
    published = json.loads((DOCS / "schemas" / f"{name}.schema.json").read_text(encoding="utf-8"))
    assert published == stage_schema(name), "run tools/write_schema.py"


@pytest.mark.parametrize("words", ASKED, ids=" ".join)
def test_answers_have_the_published_form(
    words: list[str],
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    status = main(words)
    data = json.loads(capsys.readouterr().out)
    assert status in (0, 1)
    schema = stage_schema(form_of(words))
    jsonschema.Draft202012Validator(schema).validate(data)
    unknown = set(data) - keys_of(schema)
    assert not unknown, f"keys that no schema names: {unknown}"
