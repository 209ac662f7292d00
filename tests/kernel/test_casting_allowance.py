"""Castings and patterns. Trap 19: the allowance once or on both faces; contraction put on twice."""

from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import tables
from calc.kernel.casting_allowance import casting_allowance
from calc.kernel.casting_books import METALS, agreed, books, contraction_text, left_on
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value
from tests.oracles_stock import PRINTED, cooled, with_contraction_rule

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
ENTRIES = [
    *[check["entered"] for key in ("contraction", "finish_allowances") for check in tables.read_checks(key)],
    *[{"finished_size": "2 1/3 in", "metal": one, "faces": "2", "contraction": "0.13", "allowance": "0.07 in"}
      for one in METALS],
    {"finished_size": "100 mm", "metal": "gunmetal", "faces": "1", "surface": "bore"},
    {"finished_size": "311 mm", "metal": "aluminium", "faces": "1", "contraction": "13 mm/m",
     "allowance": "2 mm"},
    {"finished_size": "17 in", "metal": "cast-iron", "faces": "2", "surface": "bore", "contraction": "1/10"},
]  # fmt: skip


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def cast(**more):
    plain = {"finished_size": 4 * INCH, "metal": "cast-iron", "faces": 2, "contraction": Fraction(1, 8)}
    return casting_allowance(**plain | more)


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs = read_entries(get("casting-allowance"), entered).inputs
    outcome = casting_allowance(**inputs)
    results = outcome.results
    unit = INCH if outcome.working[-1].unit == "in" else Fraction(1)
    tabled = [evaluate(one.value) for one in outcome.working if one.formula == "from the table"]
    names = {
        "finished size": inputs["finished_size"] / unit, "faces": inputs["faces"],
        "casting size": Fraction(results["casting_size_mm"]) / unit,
        "allowance": Fraction(results["allowance_mm"] or 0) / unit,
        "contraction": Fraction(results["contraction_in_ft"]),
    }  # fmt: skip
    names |= dict(zip(("face", "core"), tabled[:2], strict=False)) if len(tabled) > 1 else {}
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        assert step.source
        if step.formula == "from the table":
            assert step.figures == step.value
            continue
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + HAIR, step


def test_pattern_when_measured_with_a_contraction_rule_and_cooled_then_the_casting_again():
    """Derived: 12 1/2 in of iron is 12.598 in by 3/32 and 12.630 in by 1/8."""
    for shrink, pattern in (("3/32", "12.598"), ("1/8", "12.630")):
        exact = with_contraction_rule(Fraction(25, 2), Fraction(shrink))
        assert float(exact) == pytest.approx(float(pattern), abs=5e-4)
        found = cast(finished_size=Fraction(25, 2) * INCH, faces=0, contraction=Fraction(shrink)).results
        assert found["pattern_size_mm"] / 25.4 == pytest.approx(float(exact))
        assert cooled(exact, Fraction(shrink)) == Fraction(25, 2)
        assert found["casting_size_mm"] == 317.5


def test_trap_19_when_both_faces_are_machined_then_the_allowance_is_on_each_and_both_readings_stand_there():
    """Per face, so twice on a diameter: Applied Science for Metal Workers, section 428."""
    eighth = INCH / 8
    both, one = (cast(faces=faces, allowance=eighth) for faces in (2, 1))
    assert both.results["casting_size_mm"] == float(4 * INCH + 2 * eighth)
    assert one.results["casting_size_mm"] == float(4 * INCH + eighth)
    for found in (both.results, one.results):
        assert found["pattern_both_faces_mm"] == both.results["pattern_size_mm"]
        assert found["pattern_one_face_mm"] == one.results["pattern_size_mm"]
    assert "On one alone the pattern would be 4.168 in" in both.warnings[0].text
    assert "On both, as on a diameter, the pattern would be 4.294 in" in one.warnings[0].text
    none = cast(faces=0).results
    assert none["pattern_one_face_mm"] is none["pattern_both_faces_mm"] is none["allowance_mm"] is None


def test_trap_19_when_the_size_may_have_contraction_in_it_then_that_reading_stands_there():
    outcome = cast(allowance=INCH / 8)
    (caution,) = [one for one in outcome.warnings if one.code == "already-included"]
    # With its contraction in it already, the pattern is what the casting would be: 4.25 in.
    assert "nothing more goes on: the pattern is then 4.25 in (107.95 mm)" in caution.text


@pytest.mark.parametrize("metal", [one for one in METALS if agreed(one) is None])
def test_contraction_when_the_books_differ_and_none_is_chosen_then_refused_with_each_book_named(metal):
    with pytest.raises(OutOfRange) as refused:
        casting_allowance(finished_size=INCH, metal=metal, faces=0)
    assert refused.value.field == "contraction"
    for book in books(metal):
        assert f"{book.text} by {book.where}" in str(refused.value)
    told = cast(metal=metal, faces=0).warnings
    assert "books-differ" in [one.code for one in told]


@pytest.mark.parametrize("metal", [one for one in METALS if agreed(one) is not None])
def test_contraction_when_the_books_agree_then_theirs_is_in_use_with_its_source(metal):
    outcome = casting_allowance(finished_size=INCH, metal=metal, faces=0)
    assert outcome.results["contraction_in_ft"] == float(agreed(metal))
    (step,) = [one for one in outcome.working if one.formula == "from the table"]
    assert all(book.where in step.source for book in books(metal))
    assert "books-differ" not in codes(outcome)


def test_books_when_read_then_what_each_prints():
    assert {metal for metal in METALS if agreed(metal) is None} == {
        "cast-iron",
        "steel",
        "bronze",
        "aluminium",
    }
    for (metal, title), printed in PRINTED.items():
        (book,) = [one for one in books(metal) if title in one.where]
        assert book.low == book.high == Fraction(printed)
        assert book.text == printed
    iron = next(one for one in books("cast-iron") if "patternmaking" in one.where)
    assert iron.text == "1/10 to 1/8"
    assert contraction_text(Fraction("0.265")) == "0.265"
    assert contraction_text(Fraction(1, 7)) == "1/7"


def test_rows_when_a_book_has_a_range_then_the_pattern_by_both_its_ends():
    rows = cast(finished_size=Fraction(25, 2) * INCH, faces=0).results["contractions"]
    spans = [(row["pattern_low_mm"] / 25.4, row["pattern_high_mm"] / 25.4) for row in rows]
    assert spans[0] == pytest.approx((12.5977, 12.5977), abs=5e-5)
    assert spans[1] == pytest.approx((12.6042, 12.6302), abs=5e-5)


@pytest.mark.parametrize(
    ("metal", "inches", "low", "high", "origin"),
    [
        # Read, section 428: small iron or brass 1/16 to 1/8, steel 1/4 to 1/2. The rest from memory.
        ("cast-iron", 4, "1/16", "1/8", "read"), ("brass", 6, "1/16", "1/8", "read"),
        ("steel", 30, "1/4", "1/2", "read"), ("gunmetal", 6, "1/16", "3/32", "memory"),
        ("cast-iron", 12, "3/32", "1/8", "memory"), ("cast-iron", 24, "1/8", "3/16", "memory"),
    ],
)  # fmt: skip
def test_allowance_when_not_entered_then_the_most_of_the_row_with_its_origin(
    metal, inches, low, high, origin
):
    found = left_on(metal, inches * INCH)
    assert (found.low / INCH, found.high / INCH, found.origin) == (Fraction(low), Fraction(high), origin)
    outcome = cast(metal=metal, finished_size=inches * INCH)
    assert (
        outcome.results["allowance_mm"]
        == outcome.results["allowance_high_mm"]
        == float(Fraction(high) * INCH)
    )
    (caution,) = [one for one in outcome.warnings if one.code == "allowance-from-table"]
    assert f"{low} to {high} in a face" in caution.text
    assert ("from memory" in caution.text) == (origin == "memory")


def test_bore_when_cast_from_a_core_then_smaller_by_the_allowance_and_what_a_core_wants():
    results = cast(surface="bore").results
    assert results["allowance_mm"] == float(INCH / 8 + INCH / 16)
    assert results["casting_size_mm"] == float(4 * INCH - INCH * 3 / 8)
    with pytest.raises(NoSolution) as none:
        cast(surface="bore", finished_size=INCH / 4)
    assert "Cast it solid" in none.value.would_do[0]


def test_allowance_when_less_than_the_table_or_in_no_book_then_told():
    assert "allowance-small" in codes(cast(allowance=INCH / 32))
    assert "in-no-book" in codes(cast(contraction=Fraction(1, 5)))
    assert "in-no-book" not in codes(cast(contraction=Fraction(11, 100)))


@pytest.mark.parametrize(("metal", "inches"), [("aluminium", 3), ("brass", 7), ("cast-iron", 25), ("tin", 1)])
def test_allowance_when_the_table_has_no_row_then_it_must_be_entered(metal, inches):
    with pytest.raises(NotInTable) as refused:
        cast(metal=metal, finished_size=inches * INCH)
    assert refused.value.field == "allowance"
    assert (
        cast(metal=metal, finished_size=inches * INCH, allowance=INCH / 8).results["allowance_low_mm"] is None
    )


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"metal": "wood"}, "metal"), ({"surface": "inside"}, "surface"),
     ({"faces": 0, "allowance": INCH / 8}, "allowance")],
)  # fmt: skip
def test_entry_when_wrong_or_not_wanted_then_refused_by_name(wrong, field):
    with pytest.raises(OutOfRange) as refused:
        cast(**wrong)
    assert refused.value.field == field


@pytest.mark.parametrize("text", ["3 mm", "1:0", "1/8 cm", "no"])
def test_contraction_when_it_does_not_say_what_it_is_on_then_refused(text):
    with pytest.raises(EntryErrors) as refused:
        read_entries(
            get("casting-allowance"),
            {"finished_size": "1 in", "metal": "tin", "faces": "0", "contraction": text},
        )
    assert list(refused.value.messages) == ["contraction"]


@pytest.mark.parametrize(
    "field", [one for one in get("casting-allowance").inputs if one.low is not None], ids=lambda one: one.name
)
def test_limit_when_stood_on_then_worked_and_a_hair_outside_refused_by_name(field):
    plain = {"allowance": INCH / 8} if field.name != "faces" else {}
    whole = field.kind == "count"
    for edge, out in ((field.low, -HAIR), (field.high, HAIR)):
        assert cast(**plain | {field.name: int(edge) if whole else edge}).results["pattern_size_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            cast(**plain | {field.name: int(edge) + (1 if out > 0 else -1) if whole else edge + out})
        assert refused.value.field == field.name
