"""The card of a planned bevel gear on paper: one side, nothing over another, what has no room is told.

Figures are those of the sum that was kept; the paper is read back.
"""

import pytest

from calc import pdf, registry
from tests.buildlog.test_cards_paper import check_paper, found, sheet_of
from tests.calc.paper_reader import Page
from tests.factories import make_assembly, make_part, make_plan, make_record
from tests.pages import pdf_text

pytestmark = pytest.mark.django_db

PAPERS = ("A4", "A5")


@pytest.fixture
def wheel(build):
    axle = make_assembly(build, code="A", name="Hind axle and differential", balloon="9")
    return make_part(
        number="A-020", name="Differential bevel wheel, left hand", assembly=axle, material="cast iron",
        leading_size="36 T", sheet="14 C",
    )  # fmt: skip


def card_of(part, record, paper):
    said = {
        "records": [record], "paper": paper, "operation": "Op 60 Cut the teeth by three rounds",
        "machine": "Horizontal mill", "held_on": "Mandrel F-014", "passes": (), "side": "hub",
        "token": record.token, "blank_limits": "",
    }  # fmt: skip
    return sheet_of(part, said)


def check_card(sheet, paper):
    page = Page(pdf.render_card(sheet))
    check_paper(page, paper)
    missing = {one["what"] for one in pdf.without_room(sheet)}
    for figure in sheet["figures"]:
        if figure["value"] and figure["label"] not in missing:
            assert found(page, figure["value"]), figure
    return missing


@pytest.mark.parametrize("paper", PAPERS)
def test_card_of_a_plan_then_one_side_with_its_rounds_and_its_mate(cast, wheel, paper):
    sheet = card_of(wheel, make_plan(wheel, user=cast.owner), paper)
    missing = check_card(sheet, paper)
    text = " ".join(" ".join(pdf_text(pdf.render_card(sheet))).split())
    for words in ("table LEFT", "table RIGHT", "OPPOSITE", "belongs with the card of its 16 T mate"):
        assert words in text or any(words in one for one in missing), words


@pytest.mark.parametrize("paper", PAPERS)
def test_card_of_a_plan_when_teeth_are_many_and_pitch_coarse_then_one_side(cast, wheel, paper):
    entered = dict(registry.get("bevel-cutting").example)
    entered |= {"teeth": "50", "mate_teeth": "48", "diametral_pitch": "3", "face_width": "3 in"}
    sheet = card_of(wheel, make_record(wheel, user=cast.owner, key="bevel-cutting", **entered), paper)
    check_card(sheet, paper)
