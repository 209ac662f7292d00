"""Masses: sections by strips, rims by turning, units by a library; refusals. Trap 11: mixed units."""

from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import tables
from calc.kernel.errors import OutOfRange
from calc.kernel.mass import FORMS, HOLLOW, MATERIALS, mass
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value
from tests.oracles_stock import area_by_strips, in_unit, rim_by_turning

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
ENTRIES = [
    *[check["entered"] for check in tables.read_checks("densities")],
    {"form": "ring", "across": "14 in", "inside_diameter": "12 1/2 in", "length": "1 3/4 in",
     "material": "bronze", "pieces": "3"},
    {"form": "hexagon", "across": "0.413 in", "length": "7 1/3 in", "density": "0.307 lb/in3", "pieces": "7"},
    *[{"form": "tube", "across": "1 3/8 in", "thickness": "10 thou", "length": "1 ft", "material": one}
      for one in MATERIALS],
]  # fmt: skip


def sizes_of(form, across=Fraction(40), **more):
    """Entries that a form wants, besides the length and the material."""
    extra = {"flat": {"thickness": Fraction(9)}}.get(
        form, {"inside_diameter": Fraction(30)} if form in HOLLOW else {}
    )
    return {
        "form": form,
        "across": across,
        "length": Fraction(100),
        "density": Fraction(7200),
        **extra,
        **more,
    }


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs = read_entries(get("mass"), entered).inputs
    outcome = mass(**inputs)
    results = outcome.results
    unit = INCH if any(one.unit == "in³" for one in outcome.working) else Fraction(1)
    names = {
        "diameter": inputs["across"] / unit, "outside diameter": inputs["across"] / unit,
        "side": inputs["across"] / unit, "across flats": inputs["across"] / unit,
        "width": inputs["across"] / unit, "thickness": (inputs["thickness"] or 0) / unit,
        "wall": (inputs["thickness"] or 0) / unit, "length": inputs["length"] / unit,
        "inside diameter": Fraction(results["inside_diameter_mm"] or 0).limit_denominator(10**6) / unit,
        "area": Fraction(results["area_mm2"]) / unit**2,
        "volume": Fraction(results["volume_cm3"]) * 1000 / unit**3,
        "density": Fraction(results["density_kg_m3"]), "mass": Fraction(results["mass_kg"]),
        "pieces": inputs["pieces"],
    }  # fmt: skip
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        assert step.source
        if step.formula == "from the table":
            assert step.figures == step.value
            continue
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + Fraction(1, 10**6), step


@pytest.mark.parametrize("form", FORMS)
def test_section_when_added_up_in_strips_then_the_same_area(form):
    entered = sizes_of(form)
    results = mass(**entered).results
    other = area_by_strips(
        form, 40.0, float(entered.get("thickness", 0)), float(entered.get("inside_diameter", 0))
    )
    assert results["area_mm2"] == pytest.approx(other, rel=1e-4)
    assert results["mass_kg"] == pytest.approx(other * 100 * 7200e-9, rel=1e-4)


def test_rim_when_turned_about_its_middle_then_the_same_volume():
    results = mass(**sizes_of("ring", Fraction(350), inside_diameter=Fraction(310))).results
    assert results["volume_cm3"] == pytest.approx(rim_by_turning(350, 310, 100) / 1000)
    wall = mass(**sizes_of("ring", Fraction(350), inside_diameter=None, thickness=Fraction(20))).results
    assert wall["mass_kg"] == results["mass_kg"]
    assert wall["inside_diameter_mm"] == 310


def test_disc_when_of_iron_then_the_mass_worked_beforehand_and_its_range():
    """Derived: 300 × 50 mm at 7200 is 25.45 kg; 7000 to 7400 read in Mechanics of Materials."""
    outcome = mass(form="disc", across=Fraction(300), length=Fraction(50), material="grey-iron")
    results = outcome.results
    assert results["mass_kg"] == pytest.approx(25.45, abs=0.005)
    assert results["mass_low_kg"] == pytest.approx(25.447 * 7000 / 7200, abs=0.001)
    assert results["mass_high_kg"] == pytest.approx(25.447 * 7400 / 7200, abs=0.001)
    assert codes(outcome) == ["from-memory", "heavy"]
    assert "7200 kg/m³ is from memory; the range, 7000 to 7400, was read" in outcome.warnings[0].text
    own = mass(form="disc", across=Fraction(300), length=Fraction(50), density=Fraction(7200)).results
    assert own["mass_kg"] == results["mass_kg"]
    assert own["mass_low_kg"] is own["mass_high_kg"] is None


def test_pieces_when_many_then_so_many_times_one():
    one, many = (mass(**sizes_of("round", pieces=count)).results for count in (1, 12))
    assert many["mass_kg"] == pytest.approx(12 * one["mass_kg"])
    assert many["mass_each_kg"] == one["mass_kg"]


def test_densities_when_read_then_low_to_high_and_every_material_is_there():
    rows = tables.read_table("densities", "densities").rows
    assert tuple(row["material"] for row in rows) == MATERIALS
    for row in rows:
        assert Fraction(row["low"]) <= Fraction(row["use"]) <= Fraction(row["high"])
        assert {row["range_origin"], row["use_origin"]} <= {"read", "memory"}


@pytest.mark.parametrize(
    ("text", "unit", "figure"),
    [("7.2 g/cm3", "gram / centimeter ** 3", 7.2), ("0.26 lb/in³", "pound / inch ** 3", 0.26),
     ("450 lb/ft3", "pound / foot ** 3", 450), ("7200", "kilogram / meter ** 3", 7200)],
)  # fmt: skip
def test_trap_11_when_a_density_has_a_unit_then_as_a_library_of_units_has_it(text, unit, figure):
    from tests.oracles_stock import UNITS

    read = read_entries(get("mass"), {"form": "disc", "across": "1 in", "length": "1 in", "density": text})
    wanted = UNITS.Quantity(figure, unit).to("kilogram / meter ** 3").magnitude
    assert float(read.inputs["density"]) == pytest.approx(wanted)


def test_trap_11_when_a_bare_density_is_in_another_unit_then_refused():
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("mass"), {"form": "disc", "across": "1 in", "length": "1 in", "density": "7.2"})
    assert "100 kg/m³ to 25000 kg/m³" in refused.value.messages["density"]


def test_pound_when_shown_then_as_a_library_of_units_has_it():
    outcome = mass(**sizes_of("square"))
    (step,) = [one for one in outcome.working if one.unit == "lb"]
    assert float(step.value) == pytest.approx(in_unit(outcome.results["mass_kg"], "pound"), abs=5e-4)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"form": "angle"}, "form"), ({"material": "wood"}, "material"), ({"density": None}, "density"),
        ({"material": "steel"}, "density"), ({"thickness": Fraction(3)}, "thickness"),
        ({"inside_diameter": Fraction(3)}, "inside_diameter"), ({"form": "flat"}, "thickness"),
        ({"form": "tube"}, "thickness"),
        ({"form": "tube", "thickness": Fraction(3), "inside_diameter": Fraction(34)}, "thickness"),
        ({"form": "tube", "thickness": Fraction(20)}, "thickness"),
        ({"form": "ring", "inside_diameter": Fraction(40)}, "inside_diameter"),
    ],
)  # fmt: skip
def test_entry_when_wrong_too_many_or_missing_then_refused_by_name(wrong, field):
    with pytest.raises(OutOfRange) as refused:
        mass(**sizes_of("round") | wrong)
    assert refused.value.field == field


@pytest.mark.parametrize(
    "field", [one for one in get("mass").inputs if one.low is not None], ids=lambda one: one.name
)
def test_limit_when_stood_on_then_worked_and_a_hair_outside_refused_by_name(field):
    plain = {
        "thickness": sizes_of("flat"),
        "inside_diameter": sizes_of("tube", Fraction(5000)),
    }.get(field.name, sizes_of("round"))
    whole = field.kind == "count"
    for edge, out in ((field.low, -HAIR), (field.high, HAIR)):
        if field.name != "inside_diameter" or edge == field.low:
            value = int(edge) if whole else edge
            assert mass(**plain | {field.name: value}).results["mass_kg"] > 0
        with pytest.raises(OutOfRange) as refused:
            mass(**plain | {field.name: int(edge) + (1 if out > 0 else -1) if whole else edge + out})
        assert refused.value.field == field.name
