"""Each share of a card on paper: one side of A4 and of A5, with the largest entries, nothing over an edge.

What is looked for is worked in `tests/calc/test_card_gears.py`, `test_card_holes.py`, `test_card_fits.py`.
"""

import re
import shutil
import subprocess

import pytest

from buildlog.actions.cards import make_card
from calc import pdf
from calc.answers.card_registry import SHARES
from calc.registry import get
from tests.buildlog.test_cards import make, printed
from tests.buildlog.test_cards_paper import FACES, check_paper, said_of, sheet_of
from tests.calc.paper_reader import Page
from tests.factories import make_assembly, make_part, make_record

pytestmark = pytest.mark.django_db

PAPERS = ("A4", "A5")
BEVEL = {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"}
BROACHING = {
    "bore": "1.125 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in", "rise_per_pass": "0.045 in",
    "shims": "0.045, 0.020, 0.006 in", "hub_length": "1 3/4 in", "guide_length": "2 in",
}  # fmt: skip
WHEELS = "20,25,30,35,40,45,50,55,60,63,65,70,75,80,100"
GEARS = "24,24,28,32,40,44,48,56,64,72,86,100"
OWNED = "1/16 to 1/2 by 1/64, #1 to #60"
HUNDREDTHS = ", ".join(["0.010"] * 11)
STRENGTH = {
    "power": "5 hp", "speed": "210", "shaft": "1 1/8 in", "key_width": "1/4 in", "key_height": "1/4 in",
    "length": "1 1/4 in", "allowable_shear": "7000 psi", "allowable_crushing": "14000 psi",
}  # fmt: skip
#: The usual entries of each sum, and what must be readable of it on either paper.
USUAL = {
    "spur-gear": ({"teeth": "84", "diametral_pitch": "6 DP"}, "55–134"),
    "helical-gear": ({"teeth": "24", "diametral_pitch": "10", "helix_angle": "22.5 deg"}, "26–34"),
    "bevel-pair": (BEVEL, "62.68°"),
    "bevel-cutting": (dict(get("bevel-cutting").example), "0.0654"),
    "worm-pair": (
        {"starts": "1", "wheel_teeth": "36", "axial_pitch": "1/2 in", "worm_diameter": "1 1/4 in"},
        "0.5000",
    ),
    "indexing": ({"divisions": "84", "ratio": "40", "circles": FACES}, "20 in 42"),
    "indexing-schedule": (
        {"divisions": "84", "ratio": "40", "circle": "42", "turns": "0", "holes": "20"},
        "20 in 42",
    ),
    "bore-sequence": ({"finished_bore": "1/2", "drills_owned": OWNED}, "Drill 31/64"),
    "taper": ({"name": "MT2", "work_length": "8 in", "sine_bar": "5 in"}, "1.43069°"),
    "fit": ({"nominal": "1 1/8 in", "hole": "H7", "shaft": "g6"}, "1.1250–1.1258"),
    "inch-fit": ({"nominal": "1 in", "fit": "RC4"}, "1.0000–1.0012"),
    "shop-fit": ({"nominal": "1 1/2", "fit": "forced"}, "1.5000"),
    "press-fit": (
        {"interface": "25 mm", "hub_outside": "50 mm", "interference": "0.020 mm"},
        "67 °C",
    ),
    "thread": ({"thread": "1/4 BSF"}, "5.4 mm"),
    "tapping-drill": ({"thread": "2 BA", "drill": "#24"}, "#24"),
    "bolt-circle": ({"holes": "6", "diameter": "3 in"}, "−1.2990"),
    "keyway": ({"shaft_diameter": "1 1/8", "standard": "b17.1"}, "1.241"),
    "broaching": (BROACHING, "0.045 + 0.02 + 0.006"),
    "key-strength": (STRENGTH, "1.524"),
    "bevel-differential": (
        {"left_teeth": "36", "right_teeth": "36", "pinion_teeth": "16", "pinions": "4", "module": "3"},
        "apex to tip, left",
    ),
    "change-wheels": (
        {"pitch": "1.5 mm", "screw_threads_per_inch": "8", "wheels_owned": WHEELS},
        "1.5",
    ),
    "milling-lead": (
        {"lead": "19.7025 in", "screw_threads_per_inch": "4", "change_gears": GEARS},
        "Try the hand clear of the cutter",
    ),
    "spindle-speed": ({"diameter": "1 1/2 in", "material": "mild-steel"}, "229"),
}
#: The longest that each of these puts on a card.
LARGEST = {
    "spur-gear": {"teeth": "400", "module": "2", "mate_teeth": "400", "pin_diameter": "3.5 mm"},
    "helical-gear": {"teeth": "200", "module": "2", "mate_teeth": "200", "helix_angle": "44 deg 30 min"},
    "bevel-pair": {"teeth": "96", "mate_teeth": "13", "module": "6", "face_width": "90 mm"},
    "bevel-cutting": {
        "teeth": "84", "mate_teeth": "18", "module": "6", "face_width": "120 mm", "circles": FACES,
    },
    "worm-pair": {"starts": "8", "wheel_teeth": "200", "module": "6", "worm_diameter": "120 mm"},
    "bore-sequence": {"finished_bore": "1 7/16", "drills_owned": "1/16 to 1 1/2 by 1/64"},
    "taper": {
        "large_diameter": "123.4567 mm", "small_diameter": "101.2345 mm", "length": "298.7654 mm",
        "work_length": "399.9999 mm", "sine_bar": "200 mm",
    },
    "fit": {"nominal": "399.999 mm", "hole": "JS11", "shaft": "js11"},
    "press-fit": {
        "interface": "249.999 mm", "hub_outside": "400 mm", "interference": "0.4999 mm", "length": "300 mm",
        "friction": "0.12", "hub_strength": "300 MPa", "assembly_clearance": "0.125 mm",
    },
    "bolt-circle": {"holes": "72", "diameter": "30 in", "centre_x": "-12.3456 in", "centre_y": "-23.4567 in"},
    "broaching": BROACHING | {"rise_per_pass": "0.010 in", "shims": f"{HUNDREDTHS}, 0.006 in"},
}  # fmt: skip


@pytest.fixture
def wheel(build):
    shafts = make_assembly(build, code="S", name="Shafts and gearing", balloon="7")
    return make_part(
        number="S-016", name="Final-drive wheel", assembly=shafts, material="cast iron",
        casting_number="K-040", leading_size="14.333 in OD", sheet="12 B", weight="39 lb",
    )  # fmt: skip


def sheet_for(part, user, entries, paper, **more):
    kept = [make_record(part, user=user, key=key, **typed) for key, typed in entries.items()]
    said = said_of(part, user, "", paper) | {"records": kept, "side": "both", "operation": ""} | more
    return sheet_of(part, said)


def told(page, what):
    """Whether a figure or a size stands on the page, whole or cut with its mark."""
    return any(what in word for word, *_ in page.words) or what in " ".join(page.text.split())


def check(sheet, paper):
    """One page with every figure on it, or told beforehand as having no room."""
    page = Page(pdf.render_card(sheet))
    check_paper(page, paper)
    missing = {one["what"] for one in pdf.without_room(sheet)}
    for figure in sheet["figures"]:
        if figure["value"] and figure["label"] not in missing:
            assert told(page, " ".join(figure["value"].split())), figure
    return page


def test_shares_then_each_sum_that_has_one_is_looked_at_here():
    assert set(USUAL) == set(SHARES)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("key", USUAL)
def test_paper_when_one_sum_is_on_it_then_one_side_and_its_main_figure_is_readable(cast, wheel, key, paper):
    entries, main = USUAL[key]
    sheet = sheet_for(wheel, cast.owner, {key: entries}, paper)
    page = check(sheet, paper)
    assert told(page, main)
    assert not [one for one in pdf.without_room(sheet) if one["of"] == ""]
    for size in sheet["sizes"]:
        assert told(page, size["note"]), size  # no note is cut


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("key", LARGEST)
def test_paper_when_the_entries_are_the_largest_then_one_side_all_the_same(cast, wheel, key, paper):
    check(sheet_for(wheel, cast.owner, {key: LARGEST[key]}, paper), paper)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(
    "keys",
    [
        ("bevel-pair", "bevel-differential", "spindle-speed"),
        ("keyway", "broaching", "key-strength"),
        ("bore-sequence", "fit", "keyway", "broaching"),
        ("bolt-circle", "thread", "spindle-speed"),
        ("taper", "press-fit", "bore-sequence", "bolt-circle", "broaching"),
        ("spur-gear", "broaching", "bolt-circle"),
    ],
)
def test_paper_when_shares_meet_then_one_side_and_each_table_has_rows_or_says_how_many(
    cast, wheel, keys, paper
):
    sheet = sheet_for(wheel, cast.owner, {key: USUAL[key][0] for key in keys}, paper)
    page = check(sheet, paper)
    missing = {one["what"] for one in pdf.without_room(sheet)}
    for table in sheet["tables"]:
        if table["title"] in missing:
            continue
        assert told(page, table["title"])
        last = table["rows"][-1]
        whole = all(page.find(cell) or told(page, cell) for cell in last)
        assert whole or re.search(rf"\d+ of {len(table['rows'])} here", " ".join(page.text.split()))


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_a_circle_has_72_holes_then_as_many_as_fit_and_where_the_rest_are(cast, wheel, paper):
    sheet = sheet_for(wheel, cast.owner, {"bolt-circle": LARGEST["bolt-circle"]}, paper)
    text = " ".join(Page(pdf.render_card(sheet)).text.split())
    number = wheel.records.get().pk
    shown = re.search(rf"(\d+) of 72 here; the rest on the sheet of sum {number}\.", text)
    assert 12 <= int(shown[1]) < 72
    rows = sheet["tables"][0]["rows"]
    assert all(" ".join(row) in text for row in rows[: int(shown[1])])
    assert " ".join(rows[int(shown[1])]) not in text


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_a_circle_has_6_holes_then_all_and_a_box_to_each(cast, wheel, paper):
    sheet = sheet_for(wheel, cast.owner, {"bolt-circle": USUAL["bolt-circle"][0]}, paper)
    text = " ".join(Page(pdf.render_card(sheet)).text.split())
    assert "the rest on the sheet" not in text
    assert all(" ".join(row) in text for row in sheet["tables"][0]["rows"])


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_a_picture_has_white_in_it_then_the_words_after_it_are_black(cast, wheel, paper):
    # The holes of a circle are filled white; what is written after them would be as well.
    sheet = sheet_for(wheel, cast.owner, {"bolt-circle": USUAL["bolt-circle"][0]}, paper)
    page = Page(pdf.render_card(sheet))
    assert page.one("Hole")
    assert page.word_inks == {(0, 0, 0)}


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="no pdftotext to read the paper with")
def test_paper_when_read_by_another_reader_then_passes_and_cautions_in_their_order(cast, wheel, tmp_path):
    entries = {key: USUAL[key][0] for key in ("keyway", "broaching")}
    (tmp_path / "card.pdf").write_bytes(
        pdf.render_card(sheet_for(wheel, cast.owner, entries, "A5", side="hub"))
    )
    done = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "card.pdf"), "-"],
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    lines = [" ".join(line.split()) for line in done.stdout.splitlines()]
    rows = [line for line in lines if re.match(r"[123] (none|0\.045)", line)]
    assert [row.split()[0] for row in rows] == ["1", "2", "3"]
    assert "1.241" in rows[-1]
    assert any("Face out of line of a broach" in line for line in lines)


@pytest.mark.parametrize("paper", PAPERS)
def test_paper_when_a_gear_has_tables_beside_it_then_its_own_figures_stay_first(cast, wheel, paper):
    keys = ("spur-gear", "broaching", "bolt-circle")
    sheet = sheet_for(wheel, cast.owner, {key: USUAL[key][0] for key in keys}, paper)
    page = Page(pdf.render_card(sheet))
    assert page.find("55–134")
    assert page.find("0.3595")


def test_card_when_told_to_print_without_a_table_then_it_is_gone_and_its_sum_is_named(cast, wheel):
    keys = ("spur-gear", "broaching", "bolt-circle")
    kept = [make_record(wheel, user=cast.owner, key=key, **USUAL[key][0]) for key in keys]
    said = said_of(wheel, cast.owner, "", "A5") | {"records": kept, "leave_off": True}
    card = make_card(wheel, said, by=cast.owner, address="")
    assert "Passes of the broach" not in [one["title"] for one in card.sheet["tables"]]
    assert pdf.without_room(card.sheet) == []
    assert any(str(kept[1].pk) in note["strong"] for note in card.sheet["notes"])


# ---- the site --------------------------------------------------------------------------------------------


def test_site_when_a_bolt_circle_is_kept_then_its_card_is_made_and_its_page_has_the_holes(site, cast, wheel):
    record = make_record(wheel, user=cast.owner, key="bolt-circle", holes="6", diameter="3 in")
    card = make(site, wheel, record)
    assert "Drill 6 holes on 3.000" in printed(site, card)
    page = site.get(card.get_absolute_url()).content.decode()
    assert "Holes from the datum" in page
    assert "4, −1.5000, 0.0000" in page


def test_site_when_two_gears_are_kept_then_only_the_newest_is_ticked(site, cast, wheel):
    make_record(wheel, user=cast.owner, key="spur-gear", teeth="84", diametral_pitch="6")
    newest = make_record(wheel, user=cast.owner, key="bevel-pair", **BEVEL)
    form = site.get(f"/parts/{wheel.pk}/card/").context["form"]
    assert form.initial["records"] == [str(newest.pk)]
    assert form.initial["passes"].endswith("0.2696")


def test_card_when_it_was_kept_before_there_were_tables_then_it_prints(cast, wheel):
    said = said_of(wheel, cast.owner, "keyway", "A4")
    card = make_card(wheel, said, by=cast.owner, address="")
    del card.sheet["tables"]
    assert Page(pdf.render_card(card.sheet)).pages == 1
