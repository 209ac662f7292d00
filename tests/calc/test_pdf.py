"""The printed papers: their text, their sizes, that nothing leaves the page or lies over something else."""

import ast
import json
import re
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from itertools import groupby
from pathlib import Path

import pypdfium2
import pytest
import segno

import calc
from calc.pdf import render_card
from calc.pdf_paper import UNKNOWN, printable, signs
from calc.pdf_text import CUT
from tests.calc import paper_samples as samples
from tests.calc.paper_reader import PT, Page, overlaps, page_text

SIZES = {"A4": (210, 297), "A5": (148, 210)}
EACH_CARD = [(name, paper) for name in samples.CARDS for paper in ("A4", "A5")]


def boxes_of(page):
    """The words in the boxes of the tally, in reading order: (base line, left, number, pin home)."""
    note, after = page.one("one box to a tooth")[1], page.one("hole, angle")[1]
    found = []
    for (text, (left, top, *_), *_), base in zip(page.words, page.base_lines, strict=True):
        number = re.fullmatch(r"(\d+)(◥?)", text)
        if number and top > note[3] and left < after[0] - 1:
            found.append((round(base, 1), left, int(number[1]), bool(number[2])))
    return sorted(found)


# ---- the card ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_when_84_teeth_then_84_boxes_in_rows_of_ten_with_the_pin_home_at_21_42_63_84(paper):
    # Boxes 1 to 84 in tens. Home after 42 / gcd(20, 42) = 21 moves: derived.
    boxes = boxes_of(Page(render_card(samples.card(paper))))
    assert [number for *_, number, _ in boxes] == list(range(1, 85))
    assert [number for *_, number, home in boxes if home] == [21, 42, 63, 84]
    rows = [[number for *_, number, _ in row] for _, row in groupby(boxes, key=lambda box: box[0])]
    assert [len(row) for row in rows] == [10] * 8 + [4]


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_then_the_text_names_what_a_machinist_looks_for(paper):
    (text,) = page_text(render_card(samples.card(paper)))
    for words in (
        "Marlpit, 4 in scale",
        "S-016 Final-drive wheel",
        "Op 50 Cut 84 teeth",
        "Sh 12 issue B",
        "Cast iron, K-040",
        "39 lb",
        "Held on",
        "20 in 42",
        "Proof: 84 × 20/42 = 40.",
        "Pin home after 21, 42, 63, 84.",
        "214.29°",
        "Reached",
        "Left off",
        "Initials, date",
        "No gloves near the cutter.",
        "Worked from sum 34 revision 1, as kept 28 Nov 2025",
        "Check the drawing and your own measurement",
        "28 Nov 2025",
        "1 of 1",
    ):
        assert words in text, words


@pytest.mark.parametrize(("name", "paper"), EACH_CARD)
def test_card_then_it_is_one_page_of_its_size_and_nothing_passes_the_edge(name, paper):
    page = Page(render_card(samples.CARDS[name](paper)))
    assert page.pages == 1
    assert (page.width, page.height) == pytest.approx(SIZES[paper], abs=0.1)
    for left, top, right, bottom in page.places:
        assert left > 4
        assert top > 4
        assert right < page.width - 4
        assert bottom < page.height - 4


@pytest.mark.parametrize(("name", "paper"), EACH_CARD)
def test_card_then_no_word_lies_over_another(name, paper):
    page = Page(render_card(samples.CARDS[name](paper)))
    assert list(overlaps(page.words)) == []


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_when_every_text_is_a_hundred_times_too_long_then_still_one_page_inside_the_frame(paper):
    page = Page(render_card(samples.wordy(paper)))
    assert page.pages == 1
    assert CUT in page.text
    for left, top, right, bottom in page.places:
        assert min(left, top) > 4
        assert right < page.width - 4
        assert bottom < page.height - 4


@pytest.mark.parametrize(("paper", "text", "worked"), [("A4", 12, 20), ("A5", 9, 17)])
def test_card_then_text_and_worked_to_figures_are_large_enough(paper, text, worked):
    card = samples.differential(paper)
    page = Page(render_card(card))
    for figure in card["figures"]:
        assert max(size for _, _, size, _ in page.find(figure["value"])) >= worked, figure
    for words in ("Sh 12 issue B", "Head H1, 40 : 1", "pin home, end of pass", "1 of 1", "inches", "39 lb"):
        assert page.one(words)[2] >= text, words
    for start in ("Proof:", "Without the gears", "No gloves", "Pin home after", "Op 50"):
        sizes = [size for said, _, size, _ in page.words if said.startswith(start)]
        assert sizes
        assert min(sizes) >= text, start


@pytest.mark.parametrize(("paper", "least"), [("A4", 9.5), ("A5", 7.35)])
def test_card_then_no_label_is_smaller_than_the_pattern_card_has_it(paper, least):
    page = Page(render_card(samples.card(paper)))
    plate = {"20 spaces, 21 holes", *(str(hole) for hole in range(0, 42, 5))}
    holes, rest = [], []
    for text, place, size, _ in page.words:
        (holes if text in plate and place[0] > page.width * 0.66 else rest).append(size)
    assert min(rest) >= least
    assert len(holes) >= 9
    assert min(holes) >= 6.5


@pytest.mark.parametrize("name", samples.CARDS)
def test_card_then_fonts_are_embedded_and_ink_is_black_on_white(name):
    page = Page(render_card(samples.CARDS[name]()))
    assert all(embedded for *_, embedded in page.words)
    assert page.inks <= {(0, 0, 0), (255, 255, 255)}


def test_card_when_left_hand_then_the_hand_is_shouted_in_the_largest_type():
    page = Page(render_card(samples.left_hand()))
    assert page.one("LEFT")[2] >= 20
    assert not Page(render_card(samples.card())).find("LEFT")


def test_card_when_200_divisions_then_each_has_its_box():
    page = Page(render_card(samples.CARDS["two_hundred"]("A5")))
    words = {text.strip().removesuffix("◥") for text, *_ in page.words}
    assert {str(number) for number in range(21, 201)} <= words
    assert sum(text.strip().endswith("◥") for text, *_ in page.words) == 40


def test_card_when_over_200_divisions_then_one_box_stands_for_ten_and_says_so():
    (text,) = page_text(render_card(samples.CARDS["four_hundred"]()))
    assert "one box for ten, one cell for each" in text
    assert "391–400" in text
    assert "Pin home after 10, 20, 30 … 400." in text


def test_card_when_differential_then_gears_sense_and_the_trap_are_on_it():
    (text,) = page_text(render_card(samples.differential()))
    for words in ("On the spindle, driver", "To the plate, driven", "opposite", "Without the gears"):
        assert words in text


def test_card_when_there_is_no_sum_then_the_working_area_is_ruled_and_no_tally_is_there():
    page = Page(render_card(samples.no_sum()))
    assert "Sketch, settings, working" in page.text
    assert samples.NO_SUM in page.text
    assert "after row" not in page.text
    assert len(rules(page)) > 20


def rules(page):
    """Level lines at least 15 mm long that are not an edge of the frame."""
    lines = [place for place in page.places if place[3] - place[1] < 1 and place[2] - place[0] > 15]
    return [line for line in lines if line[2] - line[0] < page.width - 30]


@pytest.mark.parametrize("paper", ["A4", "A5"])
def test_card_when_a_field_is_blank_then_it_has_a_rule_to_write_on(paper):
    page = Page(render_card(samples.card(paper)))
    blank = ("Held on", "Mates with, last op done?", "In, out", "Initials, date")
    starts = ("Centred by, figure", "Left off: cut, pin, depth. Next")
    for label in (*blank, *starts):
        (place,) = [place for text, place, *_ in page.words if text == label]
        under = [
            rule
            for rule in rules(page)
            if abs(rule[0] - place[0]) < 2 and 0.5 < rule[1] - place[3] < 16 and rule[2] - rule[0] > 25
        ]
        assert under, f"no rule under {label!r}"


@pytest.mark.parametrize("field", ["build", "quantity", "operation", "caution"])
def test_card_when_more_is_blank_then_it_still_prints(field):
    empty = {"strong": "", "text": ""} if field in ("operation", "caution") else ""
    assert Page(render_card(samples.card(**{field: empty}))).pages == 1


def test_card_when_more_sizes_than_rows_then_the_last_row_says_so():
    (text,) = page_text(render_card(samples.long_names()))
    assert re.search(r"\d+ more\s+see the kept sum", text)


def test_card_when_the_name_has_120_characters_then_all_of_it_is_there():
    name = samples.LONG_NAME
    assert len(name) >= 120
    for paper in ("A4", "A5"):
        text = " ".join(page_text(render_card(samples.long_names(paper)))[0].split())
        assert name in text


def test_card_when_there_is_an_address_then_the_code_is_its_code():
    # ISO/IEC 18004 as segno writes it; the squares are read back from the picture of the page.
    address = "http://192.168.1.20:8000/parts/16/"
    matrix = [
        list(row)
        for row in segno.make(address, error="m", micro=False, boost_error=False).matrix_iter(border=4)
    ]
    side, left = 18.4, 202 - 18.9
    pdf = render_card(samples.card(address=address))
    with pypdfium2.PdfDocument(pdf) as document:
        picture = document[0].render(scale=6, grayscale=True).to_pil()
    per_mm, step = 6 / PT, side / len(matrix)
    middles = [(place + 0.5) * step for place in range(len(matrix))]

    def dark(x, y):
        return int(picture.getpixel((int(x * per_mm), int(y * per_mm))) < 128)

    tops = [8 + tenth / 10 for tenth in range(60)]  # the head's height depends on what it holds
    assert any(
        [[dark(left + across, top + down) for across in middles] for down in middles] == matrix
        for top in tops
    )


def test_card_when_there_is_no_address_then_the_number_stands_alone():
    assert len(render_card(samples.card())) < len(render_card(samples.card(address="http://host/parts/1/")))
    assert "Card 231" in page_text(render_card(samples.card()))[0]


def test_card_when_rendered_twice_then_the_sheet_is_untouched_and_the_bytes_are_equal():
    card = samples.card()
    before = deepcopy(card)
    assert render_card(card) == render_card(card)
    assert card == before
    assert json.loads(json.dumps(card)) == card


def test_card_when_many_threads_print_at_once_then_every_card_is_the_same():
    with ThreadPoolExecutor(4) as pool:
        cards = list(pool.map(lambda _: render_card(samples.card()), range(8)))
    assert set(cards) == {render_card(samples.card())}


# ---- signs ------------------------------------------------------------------------------------------------

TRADE_SIGNS = "½¼¾⅛⅜⅝⅞⅓⅔¹³⁷⁄₁₆₃₂₆₄°±×µØ⌀≤≥≈√′″−–—…→∠⊥∥✓☐◥□·÷£’‘“”áéöçñß"


def test_signs_then_the_fonts_have_every_sign_of_the_trade():
    assert [sign for sign in TRADE_SIGNS if ord(sign) not in signs()] == []


def source_texts():
    for path in sorted(Path(calc.__file__).parent.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield path.name, node.value


def test_signs_then_every_character_the_programme_writes_can_be_printed():
    missing = {
        (name, char)
        for name, text in source_texts()
        for char in text
        if char not in "\n\t" and char.isprintable() and ord(char) not in signs()
    }
    assert missing == set()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Wheel 😀", f"Wheel {UNKNOWN}"),
        ("車輪", UNKNOWN * 2),
        ("גלגל", UNKNOWN * 4),
        ("عجلة", UNKNOWN * 4),
        ("\u202eleehW\u202c\u200f", "leehW"),
        ("a\x00b\x07c", "abc"),
        ("one\ntwo\tthree", "one two three"),
        ("e\u0301", "é"),
        ("\ud800", UNKNOWN),
        ("1 3/16 ⌀ × ⅜", "1 3/16 ⌀ × ⅜"),
    ],
)
def test_printable_when_a_sign_cannot_be_shown_then_a_box_stands_for_it(text, expected):
    assert printable(text) == expected


def test_card_when_typed_text_is_hostile_then_it_is_printed_as_it_is():
    name = "<b>M6</b> & <img src='file:///etc/passwd'> 😀 \u202egib"
    (text,) = page_text(render_card(samples.card(name=name)))
    assert f"<b>M6</b> & <img src='file:///etc/passwd'> {UNKNOWN} gib" in " ".join(text.split())
