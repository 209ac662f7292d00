"""What must hold of sizes to scale, masses and castings, whatever is entered."""

import json
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.casting_entries import parse_contraction
from calc.entries import EntryErrors, plain_json, read_entries
from calc.kernel.casting_allowance import casting_allowance
from calc.kernel.casting_books import METALS, contraction_text
from calc.kernel.errors import CalculationError
from calc.kernel.mass import FORMS, MATERIALS, mass
from calc.kernel.scale import scale
from calc.kernel.stock import SYSTEMS
from calc.registry import get
from calc.scale_entries import parse_scale, ratio_text
from tests.oracles_stock import cooled, with_contraction_rule

INCH = Fraction(254, 10)
sizes = st.fractions(min_value=Fraction(1, 10), max_value=3000, max_denominator=1000)
wild = st.none() | st.fractions(min_value=-5, max_value=6000, max_denominator=1000)
typed = st.text(max_size=14) | st.lists(
    st.sampled_from(["1", "3", ":", "/", " in ", " to the ", "foot", "ft", "%", "0", ".", "mm", " ton",
                     "kg", "m3",
                     "short ", "-", "'", '"', "⅛", "scale"]),
    max_size=7,
).map("".join)  # fmt: skip


def worked(function, *given, **entered):
    """What a function answers, or the reason why it does not; any other fault fails the test."""
    try:
        return function(*given, **entered), None
    except (CalculationError, EntryErrors) as fault:
        return None, fault


def plain(outcome):
    text = json.dumps(plain_json(outcome.results), allow_nan=False)
    assert not re.search(r"-0\.0(?![0-9])", text)
    return outcome.results


def refused_by_name(fault, key):
    names = {field.name for field in get(key).inputs}
    assert getattr(fault, "field", "") in names or hasattr(fault, "would_do")


@given(
    sizes,
    st.fractions(min_value=Fraction(1, 200), max_value=1, max_denominator=200),
    st.sampled_from(SYSTEMS),
)
def test_stock_when_found_then_never_below_and_the_nearest_is_no_farther_than_it(size, share, system):
    found = plain(scale(full_size=size, scale=share, system=system))
    if found["stock"] is None:
        return
    assert found["stock_mm"] >= found["size_with_allowance_mm"]
    assert abs(found["nearest_stock_error_mm"]) <= abs(found["stock_error_mm"])
    assert found["stock_full_size_mm"] * float(share) == pytest.approx(found["stock_mm"])
    assert found["mass_factor"] ** 2 == pytest.approx(found["area_factor"] ** 3)


@given(
    wild,
    wild,
    wild,
    wild,
    st.sampled_from(["round", "sheet", "plate", "none", "bar"]),
    st.sampled_from(SYSTEMS),
)
def test_scale_when_anything_is_given_then_plain_results_or_a_refusal_by_name(
    size, share, left, weight, form, system
):
    outcome, fault = worked(
        scale, full_size=size or Fraction(), scale=(share or Fraction()) / 1000, allowance=left or Fraction(),
        form=form, system=system, full_mass=weight,
    )  # fmt: skip
    if fault is not None:
        refused_by_name(fault, "scale")
        return
    plain(outcome)


@given(
    st.sampled_from(FORMS),
    wild,
    wild,
    wild,
    wild,
    st.sampled_from(("none", *MATERIALS)),
    wild,
    st.integers(-1, 90),
)
def test_mass_when_anything_is_given_then_plain_results_or_a_refusal_by_name(
    form, across, length, thick, inside, material, density, pieces
):
    outcome, fault = worked(
        mass, form=form, across=across or Fraction(), length=length or Fraction(), thickness=thick,
        inside_diameter=inside, material=material, density=density, pieces=pieces,
    )  # fmt: skip
    if fault is not None:
        refused_by_name(fault, "mass")
        return
    results = plain(outcome)
    if results["mass_low_kg"] is not None:
        assert results["mass_low_kg"] <= results["mass_kg"] * (1 + 1e-12)
        assert results["mass_kg"] <= results["mass_high_kg"] * (1 + 1e-12)


@given(sizes, sizes, st.sampled_from(MATERIALS))
def test_round_bar_when_set_against_square_and_hexagon_then_between_and_a_tube_is_what_it_leaves(
    across, length, material
):
    found = {
        form: mass(form=form, across=across, length=length, material=material).results["mass_kg"]
        for form in ("round", "hexagon", "square")
    }
    assert found["round"] < found["hexagon"] < found["square"]
    half = mass(
        form="tube", across=across, length=length, inside_diameter=across / 2, material=material
    ).results
    core = mass(form="round", across=across / 2, length=length, material=material).results
    assert half["mass_kg"] + core["mass_kg"] == pytest.approx(found["round"])


@given(
    wild, st.sampled_from(METALS), st.integers(-1, 3), st.sampled_from(["outside", "bore", "in"]), wild, wild
)
def test_casting_when_anything_is_given_then_plain_results_or_a_refusal_by_name(
    size, metal, faces, surface, c, left
):
    outcome, fault = worked(
        casting_allowance, finished_size=size or Fraction(), metal=metal, faces=faces, surface=surface,
        contraction=None if c is None else c / 10_000, allowance=None if left is None else left / 100,
    )  # fmt: skip
    if fault is not None:
        refused_by_name(fault, "casting-allowance")
        return
    results = plain(outcome)
    assert results["pattern_size_mm"] > results["casting_size_mm"] > 0


@given(sizes, st.fractions(min_value=Fraction(1, 100), max_value=Fraction(1, 2), max_denominator=1000))
def test_pattern_when_it_has_cooled_then_the_casting(size, shrink):
    size += 1
    found = casting_allowance(finished_size=size, metal="zinc", faces=0, contraction=shrink).results
    exact = with_contraction_rule(size / INCH, shrink)
    assert found["pattern_size_mm"] == pytest.approx(float(exact * INCH))
    assert cooled(exact, shrink) == size / INCH


@given(st.integers(1, 60), st.integers(60, 999))
def test_scale_when_written_as_it_is_read_then_the_same(top, bottom):
    share = Fraction(top, bottom)
    assert parse_scale(ratio_text(share)) == share


@given(st.fractions(min_value=Fraction(1, 100), max_value=Fraction(1, 2), max_denominator=999))
def test_contraction_when_written_as_it_is_read_then_the_same(shrink):
    assert parse_contraction(contraction_text(shrink)) == shrink


@given(st.integers(200, 4000), st.integers(1, 40))
def test_sizes_when_typed_in_inches_or_in_millimetres_then_the_same_answer(thou, left):
    for key, name, other, more in (
        ("scale", "full_size", "allowance", {"scale": "1:4"}),
        ("casting-allowance", "finished_size", "allowance", {"metal": "zinc", "faces": "2"}),
        ("mass", "across", "length", {"form": "round", "material": "steel"}),
    ):
        inches = {name: f"{thou / 1000} in", other: f"{left * 5} thou", **more}
        metric = {
            name: f"{float(thou * INCH / 1000):.4f} mm",
            other: f"{float(left * 5 * INCH / 1000):.4f} mm",
            **more,
        }
        read = [read_entries(get(key), entered).inputs for entered in (inches, metric)]
        assert read[0] == read[1]


@given(
    st.sampled_from([("scale", "scale"), ("scale", "full_mass"), ("mass", "density"),
                     ("casting-allowance", "contraction")]),
    typed,
)  # fmt: skip
def test_text_when_anything_is_typed_then_read_or_refused_by_name(where, text):
    key, field = where
    needed = {
        "scale": {"full_size": "1 in", "scale": "1:4"},
        "mass": {"form": "round", "across": "1 in", "length": "1 in"},
        "casting-allowance": {"finished_size": "1 in", "metal": "zinc", "faces": "0"},
    }[key]
    read, wrong = worked(read_entries, get(key), needed | {field: text})
    if wrong is not None:
        assert set(wrong.messages) == {field}
        return
    assert read.inputs[field] is None or read.inputs[field] > 0
