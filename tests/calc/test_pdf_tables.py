"""Every kept sum on paper: all its tables, all its working, inside the frame, nothing over anything else."""

import json
import re
from pathlib import Path

import pytest

from calc import records, registry
from calc.pdf import render_sum
from tests.calc import paper_samples as samples
from tests.calc.paper_reader import Page, overlaps, page_text
from tests.factories import CIRCLES, GEARS

KEPT = sorted((Path(__file__).parent / "kept").glob("*-1.json"))


def squeezed(text):
    """Letters and figures alone: where a line was broken does not matter."""
    return re.sub(r"[\s\ufffe\u00ad-]+", "", text)


def printed(run):
    sheet = records.sheet(run, context={})
    return sheet, render_sum(sheet)


def check_places(pdf):
    for number in range(len(page_text(pdf))):
        page = Page(pdf, number)
        assert list(overlaps(page.words)) == []
        for text, (left, top, right, bottom), *_ in page.words:
            assert left > 14, text
            assert top > 8, text
            assert right < 202, text
            assert bottom < 289, text


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.name.removesuffix("-1.json"))
def test_sum_on_paper_then_every_table_and_every_line_of_working_is_there(path):
    kept = json.loads(path.read_text())
    run = records.run(registry.get(kept["key"]), kept["entered"], unit=kept["unit"])
    sheet, pdf = printed(run)
    text = squeezed("".join(page_text(pdf)))
    wanted = [cell for table in records.tables_of(run, {}) for row in table["rows"] for cell in row["cells"]]
    wanted += [table["title"] for table in records.tables_of(run, {})]
    wanted += [column["label"] for table in records.tables_of(run, {}) for column in table["columns"]]
    wanted += [
        part for line in sheet["working"] for part in (line["label"], line["formula"], line["figures"])
    ]
    assert [one for one in wanted if squeezed(one) not in text] == []
    check_places(pdf)


def test_indexing_on_paper_when_there_are_many_rows_then_each_table_has_its_head_on_every_page():
    """57 divisions with change gears: compound, differential and nearest settings, each a table."""
    run = records.run(
        registry.get("indexing"),
        {"divisions": "57", "ratio": "40", "circles": CIRCLES, "change_gears": GEARS},
    )
    _, pdf = printed(run)
    pages = page_text(pdf)
    tables = records.tables_of(run, {})
    assert len(tables) > 1
    assert sum(len(table["rows"]) for table in tables) > 20
    text = squeezed("".join(pages))
    for table in tables:
        assert squeezed(table["title"]) in text
        for row in table["rows"]:
            assert all(squeezed(cell) in text for cell in row["cells"])
    check_places(pdf)


def table(rows, **changes):
    return {
        "title": "Trains, nearest first",
        "note": "drivers first",
        "columns": ["Train", "Lead, in", "How it is known, and what is to be kept in mind of it"],
        "numbers": [False, True, False],
        "rows": rows,
        "hot": [0],
    } | changes


def test_table_when_it_is_longer_than_a_page_then_its_head_stands_on_each():
    rows = [[f"train {place}", f"{place}.50", "worked out here"] for place in range(150)]
    pdf = render_sum(samples.kept_sum(rows=0, schedule=None, working=[], tables=[table(rows)]))
    pages = page_text(pdf)
    assert len(pages) > 2
    for page in pages[1:-1]:
        assert "Lead, in" in page
    found = re.findall(r"train (\d+)\b", "\n".join(pages))
    assert found == [str(place) for place in range(150)]
    check_places(pdf)


def test_table_when_a_cell_is_long_then_it_breaks_into_lines_and_nothing_is_lost():
    words = " ".join(f"word{place}" for place in range(40))
    pdf = render_sum(samples.kept_sum(rows=0, schedule=None, tables=[table([["1 : 2", "4.25", words]])]))
    assert squeezed(words) in squeezed("".join(page_text(pdf)))
    check_places(pdf)


def test_table_then_figures_end_under_one_another():
    rows = [["a", "1.5", ""], ["b", "1234.5", ""]]
    pdf = render_sum(samples.kept_sum(rows=0, schedule=None, tables=[table(rows)]))
    words = [word for number in range(len(page_text(pdf))) for word in Page(pdf, number).words]
    ends = [place[2] for text, place, *_ in words if text in ("1.5", "1234.5")]
    assert len(ends) == 2
    assert abs(ends[0] - ends[1]) < 1.0
