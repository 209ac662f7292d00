"""What is shown of scale, mass and castings: box, tables, pictures, pages, and how their entries are read."""

from fractions import Fraction
from io import StringIO

import pytest
from django.core.management import call_command
from django.urls import reverse

from calc import quantities
from calc.answers import answer, tables
from calc.answers.shapes import Case
from calc.casting_entries import parse_contraction, read_contraction
from calc.entries import read_entries
from calc.figures import Circle, Path, Text, to_svg
from calc.kernel.mass import FORMS, HOLLOW
from calc.measures import EntryError, parse_length
from calc.pictures import drawing
from calc.registry import get
from calc.scale_entries import parse_scale, read_scale
from tests.cast import make_cast

SCALED = {"full_size": "2 1/2 in", "scale": "4 in to the foot", "system": "imperial"}
DISC = {"form": "disc", "across": "300 mm", "length": "50 mm", "material": "grey-iron"}
IRON = {"finished_size": "12 1/2 in", "metal": "cast-iron", "faces": "0", "contraction": "3/32"}


def case_of(key, unit="inch", **entered):
    calculation = get(key)
    read = read_entries(calculation, entered, unit=unit)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return Case(inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered,
                readings=read.readings, unit=unit)  # fmt: skip


def shown(key, **entered):
    return answer(get(key), case_of(key, **entered))


def facts_of(found):
    return {one["label"]: (one["value"], one["small"]) for one in found["facts"]}


# ---- entries ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "scale", "echo"),
    [
        ("1:6", "1/6", "1:6 = 2 in to the foot"), ("1 in 6", "1/6", "1:6 = 2 in to the foot"),
        ("3:8", "3/8", "3:8 = 4 1/2 in to the foot"), ("1/4", "1/4", "1:4 = 3 in to the foot"),
        ("¼ scale", "1/4", "1:4 = 3 in to the foot"), ("0.25", "1/4", "1:4 = 3 in to the foot"),
        ("3 in to the foot", "1/4", "1:4 = 3 in to the foot"), ('3"/ft', "1/4", "1:4 = 3 in to the foot"),
        ("3 in", "1/4", "1:4 = 3 in to the foot"), ("1 1/2 in = 1 ft", "1/8", "1:8 = 1 1/2 in to the foot"),
        ("1/4 in to the foot", "1/48", "1:48 = 1/4 in to the foot"),
        ("50 mm/m", "1/20", "1:20 = 0.6 in to the foot"),
        ("1:10.5", "2/21", "2:21 = 1.1429 in to the foot"),
    ],
)  # fmt: skip
def test_scale_when_written_in_many_ways_then_read_and_echoed(text, scale, echo):
    assert parse_scale(text) == Fraction(scale)
    assert read_scale(parse_scale(text)) == echo


@pytest.mark.parametrize(
    ("text", "said"),
    [("3", "write 3 in to the foot, which is 1:4, or 1:3"), ("20", "write 1:20"),
     ("6:1", "greater than the engine"),
     ("75 mm", "75 mm to the foot or 75 mm/m"), ("1:0", "divided by nought"), ("0", "more than nought"),
     ("-1:4", "more than nought"), ("scale", "Nothing is entered"), ("x" * 41, "41 characters"),
     ("quarter", "read")],
)  # fmt: skip
def test_scale_when_it_cannot_be_settled_then_told_what_to_write(text, said):
    with pytest.raises(EntryError) as refused:
        parse_scale(text)
    assert said in refused.value.message


@pytest.mark.parametrize(
    ("text", "inches", "echo"),
    [("3/32", "3/32", "3/32 in/ft = 0.78125 %"), ("1/8 in/ft", "1/8", "1/8 in/ft = 1.04167 %"),
     ('1/8" per foot', "1/8", "1/8 in/ft = 1.04167 %"), ("1 %", "3/25", "0.12 in/ft = 1 %"),
     ("10 mm/m", "3/25", "0.12 in/ft = 1 %"), ("1 in 96", "1/8", "1/8 in/ft = 1.04167 %"),
     ("1/6", "1/6", "1/6 in/ft = 1.38889 %"), ("0.265", "53/200", "0.265 in/ft = 2.20833 %")],
)  # fmt: skip
def test_contraction_when_written_in_many_ways_then_read_and_echoed(text, inches, echo):
    assert parse_contraction(text) == Fraction(inches)
    assert read_contraction(parse_contraction(text)) == echo


@pytest.mark.parametrize(
    ("text", "echo"),
    [("5 ft 6 in", "5 ft 6 in = 1676.4 mm"), ("5'6\"", "5 ft 6 in = 1676.4 mm"),
     ("5ft 6in", "5 ft 6 in = 1676.4 mm"),
     ("5′ 6 1/2″", "5 ft 6 1/2 in = 1689.1 mm")],
)  # fmt: skip
def test_full_size_when_in_feet_and_inches_then_read(text, echo):
    assert parse_length(text, "inch").echo() == echo


@pytest.mark.parametrize(
    ("kind", "text", "echo"),
    [("mass", "12 ton", "12 ton of 2,240 lb = 12192.563 kg"),
     ("mass", "12 short tons", "12 short ton of 2,000 lb = 10886.217 kg"),
     ("mass", "40", "40 kg = 88.185 lb, taken as kg"), ("mass", "3 cwt", "3 cwt = 152.407 kg"),
     ("density", "0.26 lb/in³", "0.26 lb/in³ = 7196.775 kg/m³"),
     ("density", "7200", "7200 kg/m³ = 0.26 lb/in³, taken as kg/m³")],
)  # fmt: skip
def test_mass_and_density_when_written_then_echoed_with_which_ton(kind, text, echo):
    assert quantities.parse(kind, text).echo() == echo


# ---- answers ---------------------------------------------------------------------------------------------


def test_scale_when_shown_then_size_fraction_stock_and_what_it_costs_both_ways():
    """By hand: 2 1/2 × 1/3 = 0.8333; 7/8 is 41.7 thou, 5 % over; 13/16 is 20.8 thou, 2 1/2 % under."""
    found = shown("scale", **SCALED)
    assert found["over"] == "Scale, 2 1/2 in at 4 in to the foot"
    assert (found["big"], found["big_small"]) == ("0.8333 in", "21.167 mm")
    assert found["under"] == "On a rule 53/64 in, the nearest 64th: 5.2 thou under."
    facts = facts_of(found)
    assert facts["Scale"] == ("1:3", "4 in to the foot")
    assert facts["Stock not below"] == ("7/8 in", "+41.7 thou")
    assert facts["Nearest either way"] == ("13/16 in", "−20.8 thou")
    lines = {line["label"]: line["cells"] for line in found["sizes"]["lines"]}
    assert lines["In per cent"] == ["+5.00", "−2.50"]
    assert lines["Stands for full size, in"] == ["2.625", "2.438"]
    assert "What does not scale" in [one["title"] for one in found["beware"]]


def test_scale_when_a_ton_is_named_then_both_tons_are_shown():
    found = shown("scale", full_size="18 ft", scale="3 in to the foot", form="none", full_mass="12 ton")
    assert facts_of(found)["Mass of the model"] == ("420.00", "lb, 190.51 kg")
    (which,) = [one for one in found["beware"] if one["title"] == "Which ton"]
    assert "the model has 0.1875 of one, 420.00 lb" in which["text"]
    assert "would come to 375.00 lb" in which["text"]
    assert "pictures" not in found
    pounds = shown("scale", full_size="18 ft", scale="1:4", full_mass="26880 lb")
    assert "Which ton" not in [one["title"] for one in pounds["beware"]]


def test_mass_when_shown_then_both_units_the_range_and_the_section():
    found = shown("mass", **DISC)
    assert found["over"] == "Mass, disc 300 mm by 50 mm, grey cast iron"
    assert (found["big"], found["big_small"]) == ("25.45 kg", "56.10 lb")
    assert facts_of(found)["It may be"] == ("24.74 to 26.15", "kg, 54.54 to 57.66 lb")
    assert found["beware"][0]["title"] == "Heavy"
    assert found["pictures"][0]["hatches"] == ["ci"]
    own = shown("mass", **{**DISC, "material": "", "density": "7200", "pieces": "4"})
    assert "It may be" not in facts_of(own)
    assert facts_of(own)["One piece"][0] == "25.45"


def test_casting_when_shown_then_pattern_casting_and_every_book():
    found = shown("casting-allowance", **IRON)
    assert found["over"] == "Casting, 12 1/2 in cast iron, no face machined"
    assert found["big"] == "12.598 in"
    assert "3/32 in to the foot" in found["under"]
    (table,) = tables("casting-allowance", case_of("casting-allowance", **IRON))
    assert [row["cells"][1] for row in table["rows"]] == ["3/32", "1/10 to 1/8", "1/10 to 1/8", "1/8"]
    assert [row["cells"][2] for row in table["rows"]] == [
        "12.598",
        "12.604–12.630",
        "12.604–12.630",
        "12.630",
    ]
    both = shown("casting-allowance", **{**IRON, "faces": "2"})
    lines = {line["label"]: line["cells"][0] for line in both["sizes"]["lines"]}
    assert lines["Pattern, allowance on one face"] == "12.787"
    assert lines["Pattern, allowance on both faces"] == lines["Pattern"] == "12.976"
    bore = shown("casting-allowance", **{**IRON, "faces": "2", "surface": "bore"})
    assert bore["under"].startswith("The core box")


# ---- pictures --------------------------------------------------------------------------------------------

SECTIONS = [
    ("mass", {"form": form, "across": "2 in", "length": "1 in", "density": "7200"}
     | ({"thickness": "1/4 in"} if form == "flat" or form in HOLLOW else {}))
    for form in FORMS
]  # fmt: skip
PICTURES = [
    *SECTIONS,
    ("mass", {"form": "flat", "across": "10 mm", "thickness": "80 mm", "length": "1 in", "density": "7200"}),
    ("scale", SCALED), ("scale", {**SCALED, "full_size": "0.1 in"}),
    ("scale", {**SCALED, "full_size": "4.05 in", "scale": "1:1"}),
    ("scale", {"full_size": "1/4 in", "scale": "1:4", "form": "sheet"}),
    ("scale", {"full_size": "40 mm", "scale": "1:4", "form": "plate"}),
    ("casting-allowance", IRON), ("casting-allowance", {**IRON, "faces": "2", "surface": "bore"}),
    ("casting-allowance", {"finished_size": "1 mm", "metal": "zinc", "faces": "2", "allowance": "25 mm"}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("key", "entered"), PICTURES, ids=lambda one: one if isinstance(one, str) else " ".join(one.values())
)
def test_picture_when_drawn_then_everything_lies_in_the_window(key, entered):
    picture = drawing(shown(key, **entered)["pictures"][0])
    for stroke in picture.strokes:
        points = list(getattr(stroke, "points", ()))
        if isinstance(stroke, Text):
            wide = 0.3 * stroke.size * len(stroke.text)
            points = (
                [(stroke.x, stroke.y)]
                if stroke.turn
                else [(stroke.x - wide, stroke.y), (stroke.x + wide, stroke.y)]
            )
        if isinstance(stroke, Circle):
            points = [(stroke.cx - stroke.r, stroke.cy), (stroke.cx, stroke.cy + stroke.r)]
        for x, y in points:
            assert picture.x <= x <= picture.x + picture.width, stroke
            assert picture.y <= y <= picture.y + picture.height, stroke
    assert "<svg" in to_svg(picture)


def test_picture_of_stock_when_drawn_then_both_sizes_are_to_one_scale():
    case = case_of("scale", **SCALED)
    strokes = drawing(answer(get("scale"), case)["pictures"][0]).strokes
    inner, outer = (
        next(one.r for one in strokes if isinstance(one, Circle) and one.role == role)
        for role in ("cut", "hl")
    )
    assert outer / inner == pytest.approx(case.results["stock_mm"] / case.results["model_size_mm"])


def test_picture_of_a_casting_when_drawn_then_three_sizes_are_to_one_scale():
    case = case_of("casting-allowance", **{**IRON, "faces": "2"})
    strokes = drawing(answer(get("casting-allowance"), case)["pictures"][0]).strokes
    wide = [one.points[1][0] - one.points[0][0] for one in strokes if isinstance(one, Path) and one.closed]
    sizes = [12.5, case.results["casting_size_mm"] / 25.4, case.results["pattern_size_mm"] / 25.4]
    assert [one / wide[0] for one in wide] == pytest.approx([size / 12.5 for size in sizes])


# ---- pages and the terminal ------------------------------------------------------------------------------


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [("scale", SCALED, "0.8333 in"), ("scale", {**SCALED, "scale": "3"}, "3 may be two things"),
     ("mass", DISC, "25.45 kg"), ("mass", {**DISC, "across": "2 furlongs"}, "furlongs"),
     ("casting-allowance", IRON, "12.598 in"),
     ("casting-allowance", {**IRON, "contraction": ""}, "The books differ: 3/32 by Applied Science"),
     ("casting-allowance", {"finished_size": "1/4 in", "metal": "gunmetal", "faces": "2", "surface": "bore"},
      "Cast it solid")],
)  # fmt: skip
def test_page_when_sent_then_the_answer_or_the_message_is_on_it(key, typed, said):
    page = make_cast().client("owner").get(reverse("calculate", args=[key]), typed)
    assert said in page.text


@pytest.mark.parametrize(
    ("args", "code", "said"),
    [(("scale", "full_size=5 ft 6 in", "scale=3 in to the foot", "form=none"), 0, "16 1/2"),
     (("scale", "full_size=1 in", "scale=3"), 2, "may be two things"),
     (("mass", "form=disc", "across=300 mm", "length=50 mm", "material=grey-iron"), 0, "25.45 kg"),
     (("mass", "form=disc", "across=1", "length=1"), 2, "either a material or a density"),
     (("casting-allowance", "finished_size=12.5", "metal=cast-iron", "faces=0", "contraction=1/8"), 0,
      "12.630"),
     (("casting-allowance", "finished_size=1/4", "metal=gunmetal", "faces=2", "surface=bore"), 3,
      "Cast it solid"),
     (("scale",), 0, "a scale: 1:6, 3 in to the foot"), (("mass",), 0, "a density, kg/m³"),
     (("casting-allowance",), 0, "inches to the foot of casting unless it says otherwise")],
)  # fmt: skip
def test_command_when_asked_then_the_answer_or_the_reason_with_its_exit_code(args, code, said):
    out, error, ended = StringIO(), StringIO(), 0
    try:
        call_command("calculate", *args, stdout=out, stderr=error)
    except SystemExit as end:
        ended = end.code
    assert ended == code
    assert said in out.getvalue() + error.getvalue()


@pytest.mark.parametrize("key", ["scale", "mass", "casting-allowance"])
def test_example_when_worked_as_it_stands_then_there_is_an_answer(key):
    calculation = get(key)
    assert shown(key, **calculation.example)["big"]
    assert 2 <= calculation.about.count(". ") + 1 <= 4
