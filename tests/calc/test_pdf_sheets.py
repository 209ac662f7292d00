"""The kept sum and the parts list on paper, the fitting of words, and the flow over pages."""

import re

import pytest

from calc.pdf import render_parts_list, render_sum
from calc.pdf_paper import text_width
from calc.pdf_sheet import Piece, pack
from calc.pdf_text import CUT, cut, line_width, shrink, wrap
from calc.sheets import home_line, listed, row_ends, tally_note, tally_plan
from tests.calc import paper_samples as samples
from tests.calc.paper_reader import Page, overlaps, page_text

# ---- fitting words ----------------------------------------------------------------------------------------


def test_wrap_then_lines_fit_and_nothing_is_lost():
    runs = [("Proof: 84 × 20/42 = 40.", True), (" First mark every tooth lightly and count 84.", False)]
    lines = wrap(runs, 40, 12)
    assert len(lines) > 2
    assert all(line_width(line, 12) <= 40 for line in lines)
    said = " ".join("".join(text for text, _ in line).strip() for line in lines)
    assert said == "".join(text for text, _ in runs)


def test_wrap_when_a_word_is_longer_than_the_line_then_it_is_broken():
    lines = wrap([("x" * 300, False)], 30, 12)
    assert all(line_width(line, 12) <= 30 for line in lines)
    assert sum(len(text) for line in lines for text, _ in line) == 300


def test_wrap_when_there_are_too_many_lines_then_the_last_ends_in_the_sign_for_a_cut():
    lines = wrap([("word " * 50, False)], 40, 12, 2)
    assert len(lines) == 2
    assert lines[-1][-1][0].endswith(CUT)
    assert line_width(lines[-1], 12) <= 40


@pytest.mark.parametrize("width", [4, 10, 40])
def test_cut_then_the_line_fits_and_says_it_is_cut(width):
    line = cut([("Final-drive", True), (" wheel and pinion", False)], width, 12)
    assert line_width(line, 12) <= width
    assert line[-1][0].endswith(CUT)


def test_shrink_when_it_fits_smaller_then_it_is_whole():
    text, size = shrink("Final-drive wheel", 40, (21, 10))
    assert text == "Final-drive wheel"
    assert 10 < size < 21
    assert text_width(text, size, True) <= 40


# ---- the tally's plan -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "expected"),
    [(2, (1, 10)), (200, (1, 10)), (201, (10, 50)), (1000, (10, 50)), (1001, (100, 500))],
)
def test_tally_plan_then_every_count_has_at_most_twenty_rows(count, expected):
    assert tally_plan(count) == expected
    assert len(row_ends(count)) <= 20
    assert row_ends(count)[-1] == count


def test_row_ends_when_84_then_each_ten_and_the_last():
    assert row_ends(84) == [10, 20, 30, 40, 50, 60, 70, 80, 84]


def test_tally_words_then_they_say_what_a_box_stands_for():
    assert tally_note(84, "tooth") == "one box to a tooth"
    assert tally_note(300) == "one box for ten"
    assert listed([21, 42, 63, 84]) == "21, 42, 63, 84"
    assert home_line(range(1, 9))["strong"] == "Pin home after every division."
    assert "does not come home" in home_line([])["strong"]


# ---- kept sum ---------------------------------------------------------------------------------------------


def test_sum_then_every_line_of_working_stands_with_formula_figures_value_and_source():
    sheet = samples.kept_sum(schedule=None)
    (text,) = page_text(render_sum(sheet))
    text = " ".join(text.split())
    for line in sheet["working"]:
        for words in (line["label"], line["formula"], line["figures"], f"{line['value']} {line['unit']}"):
            assert words in text, words
    for words in (sheet["answer"], sheet["kept"], sheet["warnings"][0]["text"], sheet["statement"]):
        assert words in text, words
    assert "40 turns to one" in text
    assert "course OD1644" in text
    assert "1 of 1" in text


def test_sum_when_the_schedule_is_long_then_its_head_is_repeated_and_pages_are_counted():
    pages = page_text(render_sum(samples.kept_sum(rows=400)))
    assert len(pages) > 5
    for number, text in enumerate(pages, 1):
        assert f"{number} of {len(pages)}" in text
    for text in pages[1:-1]:
        assert "Spindle" in text
    rows = [line.split()[0] for text in pages for line in text.splitlines() if re.search(r"\d\.\d\d°$", line)]
    assert rows == [str(n) for n in range(401)]


@pytest.mark.parametrize("rows", [0, 84, 400])
def test_sum_then_nothing_passes_the_edge_or_lies_over_the_title_block(rows):
    pdf = render_sum(samples.kept_sum(rows=rows))
    for number in range(len(page_text(pdf))):
        page = Page(pdf, number)
        block = min(place[1] for text, place, *_ in page.words if text.strip() == "Kind of sheet")
        for text, (left, top, right, bottom), *_ in page.words:
            assert left > 14
            assert top > 8
            assert right < 202
            assert bottom < 289
            assert bottom < block or top > block - 1, text


def test_sum_when_there_is_no_part_picture_source_or_warning_then_it_prints():
    bare = samples.kept_sum(part="", plate=None, warnings=[], facts=[], sources=[], schedule=None, working=[])
    assert len(page_text(render_sum(bare))) == 1


# ---- parts list -------------------------------------------------------------------------------------------


def test_parts_list_then_every_part_stands_in_its_assembly_with_both_sizes():
    sheet = samples.parts_list(90)
    pages = page_text(render_parts_list(sheet))
    text = "\n".join(pages)
    for group in sheet["groups"]:
        assert group["name"] in text
        for row in group["rows"]:
            assert row["key"] in text
    assert "7.375 in OD" in text
    assert "187.325 mm" in text
    assert "On the engine" in text
    for number, page in enumerate(pages, 1):
        assert f"{number} of {len(pages)}" in page
        assert "Leading size" in page


def test_parts_list_when_an_assembly_runs_over_then_the_next_page_says_it_goes_on():
    pages = page_text(render_parts_list(samples.parts_list(420)))
    assert "Assembly 1, continued" in pages[1]
    assert "Assembly 1, continued" not in pages[0]


def test_parts_list_then_it_lies_across_and_nothing_passes_the_edge_or_lies_over_another():
    hostile = samples.part_row(
        1, key="W" * 60, name="W" * 400, material="W" * 80, size="W" * 90, sheet="W" * 40
    )
    hostile.update(casting="W" * 40, kind="W" * 40, stage_word="W" * 40)
    sheet = samples.parts_list(90)
    sheet["groups"][0]["rows"].insert(1, hostile)
    page = Page(render_parts_list(sheet))
    assert (page.width, page.height) == pytest.approx((297, 210), abs=0.1)
    assert list(overlaps(page.words)) == []
    for left, top, right, bottom in page.places:
        assert min(left, top) > 4
        assert right < 293
        assert bottom < 206


def test_parts_list_when_4200_parts_then_all_are_there():
    pages = page_text(render_parts_list(samples.parts_list(4194)))
    assert len(pages) > 100
    assert sum(len(re.findall(r"\bH-\d{3,4}\b", page)) for page in pages) == 4194


def test_parts_list_when_there_are_no_parts_then_it_says_so():
    (text,) = page_text(render_parts_list(samples.parts_list(groups=[])))
    assert "No parts in this list." in text


# ---- the flow of pieces -----------------------------------------------------------------------------------


def piece(height, **more):
    return Piece(height, lambda *_: None, **more)


def test_pack_when_a_heading_would_end_a_page_then_it_moves_with_what_it_heads():
    head, row = piece(10, keep=True), piece(20)
    pages = pack([piece(80), head, row], 100)
    assert [len(page) for page in pages] == [1, 2]
    assert pages[1][0] is head


def test_pack_when_a_row_starts_a_page_then_its_head_comes_again():
    head = piece(10)
    row = piece(30, again=head)
    pages = pack([row] * 5, 100)
    assert [page[0] is head for page in pages] == [False, True]
    assert sum(one is row for page in pages for one in page) == 5


def test_pack_when_one_piece_is_higher_than_the_page_then_it_still_ends():
    assert [len(page) for page in pack([piece(500), piece(500)], 100)] == [1, 1]
