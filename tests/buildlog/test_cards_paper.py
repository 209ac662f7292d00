"""Cards of several sums on paper: one side always, nothing over an edge or a word, what has no room is told.

The figures of the 84 tooth wheel are worked by hand in `tests/calc/test_card_spur_gear.py`.
"""

from uuid import uuid4

import pytest

from buildlog import clock
from buildlog.actions.cards import card_sheet
from calc import pdf
from calc.answers import card
from tests.calc.paper_reader import Page, overlaps
from tests.factories import make_assembly, make_part, make_record

pytestmark = pytest.mark.django_db

PAPERS = ("A4", "A5")
FACES = "24,25,28,30,34,37,38,39,41,42,43/46,47,49,51,53,54,57,58,59,62,66"
SUMS = {
    "dividing": {"key": "indexing", "divisions": "84", "ratio": "40", "circles": FACES},
    "gear": {"key": "spur-gear", "teeth": "84", "diametral_pitch": "6 DP", "mate_teeth": "18"},
    "module": {"key": "spur-gear", "teeth": "84", "module": "4", "mate_teeth": "18"},
    "keyway": {"key": "keyway", "shaft_diameter": "1 1/8", "standard": "b17.1"},
    "metric": {"key": "keyway", "shaft_diameter": "30 mm", "standard": "iso773"},
    "fit": {"key": "fit", "nominal": "1 1/8 in", "hole": "H7", "shaft": "g6"},
}
#: What goes on a card together, and whether each paper has room for all of it.
MIXES = {
    "dividing": (True, True),
    "gear": (True, True),
    "dividing gear": (True, True),
    "dividing module": (True, True),
    "keyway": (True, True),
    "fit": (True, True),
    "keyway fit": (True, True),
    "gear metric": (True, False),
    "dividing gear fit": (True, False),
    "dividing gear metric": (True, False),
    "dividing gear keyway fit": (True, False),
}


@pytest.fixture
def wheel(build):
    shafts = make_assembly(build, code="S", name="Shafts and gearing", balloon="7")
    return make_part(
        number="S-016", name="Final-drive wheel", assembly=shafts, material="cast iron",
        casting_number="K-040", leading_size="14.333 in OD", sheet="12 B", weight="39 lb",
    )  # fmt: skip


def said_of(part, user, names, paper, **more):
    kept = [make_record(part, user=user, **SUMS[name]) for name in names.split()]
    gear = next(filter(card.is_gear, kept), None)
    passes = tuple(card.proposed_passes(gear).split(", ")) if gear else ()
    said = {
        "records": kept, "paper": paper, "operation": "Op 50 Cut 84 teeth", "machine": "Horizontal mill",
        "held_on": "Mandrel F-014", "passes": passes, "side": "hub", "token": uuid4(),
    }  # fmt: skip
    return said | {"blank_limits": card.proposed_limits(gear) if gear else ""} | more


def sheet_of(part, said):
    address = "http://192.168.1.20:8000/parts/16/"
    return card_sheet(part, said, number=231, at=clock.now(), address=address)


def found(page, value):
    """Where a figure stands; what reads the paper makes one space of several."""
    return page.find(" ".join(value.split()))


def check_paper(page, paper):
    """One page of its size, every word inside the edge and none over another."""
    assert page.pages == 1
    assert (page.width, page.height) == pytest.approx({"A4": (210, 297), "A5": (148, 210)}[paper], abs=0.1)
    for left, top, right, bottom in page.places:
        assert min(left, top) > 4
        assert right < page.width - 4
        assert bottom < page.height - 4
    upper = [word for word in page.words if word[1][0] < page.width * 0.66]
    assert list(overlaps(upper)) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("names", MIXES)
def test_paper_when_sums_meet_then_one_side_and_what_has_no_room_is_told(cast, wheel, names, paper):
    sheet = sheet_of(wheel, said_of(wheel, cast.owner, names, paper))
    page = Page(pdf.render_card(sheet))
    check_paper(page, paper)
    without = pdf.without_room(sheet)
    assert (without == []) is MIXES[names][PAPERS.index(paper)]
    missing = {one["what"] for one in without}
    for figure in sheet["figures"]:
        if figure["value"] and figure["label"] not in missing:
            assert found(page, figure["value"]), figure
    for size in sheet["sizes"]:
        shown = [place for word, place, *_ in page.words if word == size["note"]]
        assert shown or f"{size['wanted']} {size['note']}" in missing, size


@pytest.mark.parametrize(("paper", "text", "worked"), [("A4", 12, 20), ("A5", 9.2, 17)])
@pytest.mark.parametrize("names", ["dividing gear", "gear", "keyway fit", "dividing gear keyway fit"])
def test_paper_then_words_and_figures_worked_to_are_large_enough(cast, wheel, names, paper, text, worked):
    sheet = sheet_of(wheel, said_of(wheel, cast.owner, names, paper))
    page = Page(pdf.render_card(sheet))
    missing = {one["what"] for one in pdf.without_room(sheet)}
    for figure in sheet["figures"]:
        if figure["value"] and figure["label"] not in missing:
            assert max(size for _, _, size, _ in found(page, figure["value"])) >= worked, figure
    for words in ("Sheet 12 issue B", "Mandrel F-014", "1 of 1", "inches"):
        assert page.one(words)[2] >= text - 0.01, words


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_divided_and_cut_then_what_a_gear_cutter_looks_for_is_on_it(cast, wheel, paper):
    page = Page(pdf.render_card(sheet_of(wheel, said_of(wheel, cast.owner, "dividing gear", paper))))
    text = " ".join(page.text.split())
    for said in (
        "Op 50 Cut 84 teeth, 3 passes",
        "20 in 42",
        "Cutter 6 DP, 20°, marked",
        "55–134",
        "Depth of tooth, 2.157 system",
        "0.180 0.300 0.3595",
        "14.333 +0 −0.005",
        "18 T at 8.500",
        "Proof: 84 × 20/42 = 40. First mark every tooth lightly",
        "one box to a tooth; in it passes 1, 2, 3",
        "Pin home after 21, 42, 63, 84.",
        "chord at 0.1679",
        "chord, tooth 42",
        "over 10, less backlash",
        "at 240°",
        "pin home, end of a pass",
    ):
        assert said in text, said
    assert len(page.find("4.870")) == 3
    assert len(page.find("0.2618")) == 2


def test_paper_when_the_figures_do_not_all_fit_then_those_first_used_stay(cast, wheel):
    sheet = sheet_of(wheel, said_of(wheel, cast.owner, "dividing gear keyway fit", "A5"))
    page = Page(pdf.render_card(sheet))
    first = ("20 in 42", "55–134", "0.3595", "0.180   0.300   0.3595", "14.333")
    assert all(found(page, value) for value in first)
    lost = [one["what"] for one in pdf.without_room(sheet)]
    assert "Keyway depth from the crown, hub" in lost
    assert {one["of"] for one in pdf.without_room(sheet)} <= {str(one.pk) for one in wheel.records.all()}


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_words_are_long_and_foreign_then_one_side_all_the_same(cast, build, paper):
    part = make_part(
        build, number="S" * 20, name="Überhitzer <b>“½” Ω</b> 🔧 " + "n" * 90, material="m" * 80,
        sheet="s" * 30, casting_number="K" * 20, leading_size="1 1/4 in dia", weight="99999.999 kg",
    )  # fmt: skip
    long = {"operation": "o" * 60, "machine": "m" * 60, "held_on": "h" * 60}
    said = said_of(part, cast.owner, "dividing gear keyway", paper, **long)
    check_paper(Page(pdf.render_card(sheet_of(part, said))), paper)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("teeth", ["12", "57", "200", "201", "1000"])
def test_paper_when_teeth_are_few_or_many_then_one_side_with_every_first_figure(cast, wheel, teeth, paper):
    record = make_record(wheel, user=cast.owner, key="spur-gear", teeth=teeth, diametral_pitch="20")
    said = said_of(wheel, cast.owner, "", paper) | {"records": [record], "passes": ("0.080", "0.1079")}
    sheet = sheet_of(wheel, said)
    page = Page(pdf.render_card(sheet))
    check_paper(page, paper)
    assert found(page, "0.080   0.1079")
    assert {one["what"] for one in pdf.without_room(sheet)} <= {"boxes for 2 passes"}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6])
def test_paper_when_there_are_more_passes_then_each_is_printed_and_has_its_box(cast, wheel, count, paper):
    passes = ("0.060", "0.120", "0.180", "0.240", "0.300", "0.3595")[-count:]
    sheet = sheet_of(wheel, said_of(wheel, cast.owner, "dividing gear", paper, passes=passes))
    page = Page(pdf.render_card(sheet))
    check_paper(page, paper)
    text = " ".join(page.text.split())
    assert all(one in text for one in passes)
    boxed = f"in it passes {', '.join(map(str, range(1, count + 1)))}" in text
    assert boxed or [one["what"] for one in pdf.without_room(sheet)] == [f"boxes for {count} passes"]
