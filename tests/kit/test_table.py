"""Small tables that a person wrote: every refusal says where, in fields that a page can use."""

from __future__ import annotations

import csv
import io
import pickle

import pytest

from axletree.kit.errors import AxletreeError
from axletree.kit.reading.files import text_of_file
from axletree.kit.reading.table import RowError, read_table, written_table

COLUMNS = ("star", "watched_s", "note")


@pytest.mark.parametrize(
    ("text", "row", "field", "problem"),
    [
        ("star,watched_s\nVega,long", 2, "watched_s", "'long' is not a number"),
        ("# mine\n\nstar,watched_s\nVega,1\nDeneb,", 5, "watched_s", "is missing"),
        ("star;watched_s\nVega;1;x", 2, "", "3 cells, but there are 2 columns"),
        ("star,colour\nVega,red", 1, "", "no column 'colour'; known: star, watched_s, note"),
        ("star,watched\nVega,1", 1, "", "no column 'watched'; did you mean 'watched_s'?"),
        ("star,star\nVega,1", 1, "", "column 'star' stands twice"),
        ("star,note\n" + "V" * 200_000 + ",x", 2, "", "cannot be parted"),
    ],
)
def test_a_refusal_names_row_field_and_problem(
    text: str, row: int, field: str, problem: str
) -> None:
    def seconds() -> list[float]:
        return [one.needed("watched_s") for one in read_table(text, "list.csv", COLUMNS).rows()]

    with pytest.raises(RowError) as refused:
        seconds()
    found = refused.value
    assert (found.row, found.field) == (row, field)
    assert found.problem.startswith(problem)
    where = f"list.csv line {row}" + (f", {field}" if field else "")
    assert str(found) == f"{where}: {found.problem}"
    again = pickle.loads(pickle.dumps(found))
    assert (again.row, again.field, str(again)) == (row, field, str(found))


def test_quotes_marks_and_commas_as_the_library_for_csv_reads_them() -> None:
    """Against Python's own csv, for a header in quotes and cells with the mark in them."""
    text = '\ufeff"star";"watched_s";note\r\n"a; b";12,5;"say ""no"""\r\n;;\r\n'
    (row,) = read_table(text, "x", COLUMNS).rows()
    expected = list(csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=";"))[1]
    assert [row.text(name) for name in COLUMNS] == expected
    assert row.number("watched_s") == 12.5


def test_what_is_written_is_read_back() -> None:
    rows = [
        {"star": "#Vega", "watched_s": "300", "note": 'he said "x; y"\nand went'},
        {"star": "Deneb", "note": ""},
    ]
    table = read_table(written_table(rows, COLUMNS), "page", COLUMNS)
    read = [row.cells for row in table.rows()]
    assert read[0] == {"star": "Vega", "watched_s": "300", "note": 'he said "x; y" and went'}
    assert read[1]["star"] == "Deneb"
    assert [line for line, _ in table.lines] == [2, 3]
    with pytest.raises(AxletreeError, match="there is no column 'colour'"):
        written_table([{"colour": "red"}], COLUMNS)


def test_a_file_that_is_no_list_is_refused(tmp_path) -> None:  # type: ignore[no-untyped-def]
    large, other = tmp_path / "large.csv", tmp_path / "other.csv"
    large.write_bytes(b"x" * 3_000_001)
    other.write_bytes(b"\xff\xfe\x00")
    for file, words in (
        (large, "larger than 3 MB, not a list"), (other, "UTF-8"), (tmp_path, "cannot be read"),
        (tmp_path / "none.csv", "no such file"),
    ):  # fmt: skip
        with pytest.raises(AxletreeError, match=words):
            text_of_file(file, 3_000_000, "a list")
