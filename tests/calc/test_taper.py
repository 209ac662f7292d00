"""What is shown of tapers, and how their rates are read."""

from fractions import Fraction

import pytest
from django.urls import reverse

from calc.answers.shapes import Case
from calc.answers.taper import answer
from calc.entries import read_entries
from calc.figures import Path, Text, to_svg
from calc.measures import EntryError
from calc.pictures import drawing
from calc.registry import get
from calc.taper_entries import parse_rate, read_rate
from tests.cast import make_cast


def shown(unit="inch", **entered):
    calculation = get("taper")
    read = read_entries(calculation, entered, unit=unit)
    outcome = calculation.function(**read.inputs)
    warnings = [{"code": one.code, "text": one.text} for one in outcome.warnings]
    return answer(
        Case(inputs=read.inputs, results=outcome.results, warnings=warnings, entered=entered,
             readings=read.readings, unit=unit)
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "rate", "echo"),
    [
        ("1:20", Fraction(1, 20), "1:20 = 0.6 in/ft"),
        ("1 in 20", Fraction(1, 20), "1:20 = 0.6 in/ft"),
        ("7:24", Fraction(7, 24), "1:3.4286 = 3.5 in/ft"),
        ("0.6 in/ft", Fraction(1, 20), "1:20 = 0.6 in/ft"),
        ("5/8 in per foot", Fraction(5, 96), "1:19.2 = 0.625 in/ft"),
        ("50 mm/m", Fraction(1, 20), "1:20 = 0.6 in/ft"),
        ("0.05 in/in", Fraction(1, 20), "1:20 = 0.6 in/ft"),
    ],
)
def test_rate_when_it_says_what_it_is_on_then_it_is_read(text, rate, echo):
    assert parse_rate(text) == rate
    assert read_rate(rate) == echo


@pytest.mark.parametrize("text", ["0.6", "1:0", "0.6/ft", "x in/ft", "1:", "3 deg", "1" * 50])
def test_rate_when_it_cannot_be_read_then_told_what_to_write(text):
    with pytest.raises(EntryError) as refused:
        parse_rate(text)
    assert refused.value.message


def test_round_taper_when_shown_then_the_half_angle_is_big_and_every_other_reading_stands_there():
    found = shown(name="MT2", work_length="8 in", sine_bar="5 in")
    assert found["big"] == "1.43069°"
    assert "2.86138°" in found["under"]
    facts = {fact["label"]: (fact["value"], fact["small"]) for fact in found["facts"]}
    assert facts["Set over the tailstock"] == ("0.1998", "in, 5.075 mm")
    assert facts["Under one roller of the sine bar"] == ("0.2496", "in, 6.340 mm")
    lines = {line["label"]: line["cells"] for line in found["sizes"]["lines"]}
    assert lines["Included angle"] == ["2.86138°"]
    assert lines["Large diameter"] == ["0.7000 in = 17.780 mm"]


def test_key_when_shown_then_its_face_is_big_and_the_half_is_spoken_of():
    found = shown(name="taper key 1:100")
    assert found["big"] == "0.57294°"
    assert found["beware"][0]["title"] == "A key slopes on one face"
    assert "pictures" not in found


@pytest.mark.parametrize(
    "entered", [{"name": "MT2"}, {"rate": "1:2000"}, {"rate": "8:1"}, {"included_angle": "60"},
                {"large_diameter": "30 mm", "small_diameter": "0", "length": "11 mm"}],
    ids=lambda one: " ".join(one.values()),
)  # fmt: skip
def test_picture_when_drawn_then_its_sides_have_the_angle_and_lie_in_the_window(entered):
    found = shown(**entered)
    picture = drawing(found["pictures"][0])
    cut = next(one for one in picture.strokes if isinstance(one, Path) and one.role == "cut")
    (x, y), (far, end) = cut.points[:2]
    calculation = get("taper")
    rate = calculation.function(**read_entries(calculation, entered).inputs).results["rate"]
    # The sizes of a named taper are printed to four places: they give its rate to one in 20,000.
    assert 2 * (end - y) / (far - x) == pytest.approx(rate, abs=5e-5)
    for stroke in picture.strokes:
        points = [(stroke.x, stroke.y)] if isinstance(stroke, Text) else getattr(stroke, "points", ())
        for px, py in points:
            assert picture.x <= px <= picture.x + picture.width
            assert picture.y <= py <= picture.y + picture.height
    assert "<svg" in to_svg(picture)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "said"),
    [({"name": "MT2"}, "1.43069°"), ({"rate": "0.6"}, "does not say what it is on"),
     ({"work_length": "8 in"}, "a name, or a rate, or an angle")],
    ids=["named", "bare rate", "nothing said"],
)  # fmt: skip
def test_page_when_sent_then_the_answer_or_the_message_is_on_it(typed, said):
    page = make_cast().client("owner").get(reverse("calculate", args=["taper"]), typed)
    assert said in page.text
    assert all(f'value="{text}"' in page.text for text in typed.values())
