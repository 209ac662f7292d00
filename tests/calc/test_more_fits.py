"""How the inch, workshop and press fits are shown, and how a title names a size: as it was typed."""

import pytest

from calc import pictures, records, registry
from calc.figures import Text

KEPT = {
    "inch-fit": {"nominal": "1 in", "fit": "RC4"},
    "shop-fit": {"nominal": "1 1/2", "fit": "forced"},
    "press-fit": {"interface": "1 in", "hub_outside": "2 in", "interference": "0.0015 in"},
}


def run(key, unit="inch", **entered):
    return records.run(registry.get(key), entered, unit=unit)


def answer(key, **entered):
    return records.answer_of(run(key, **entered))


def words(shown):
    return [
        stroke.text for stroke in pictures.drawing(shown["pictures"][0]).strokes if isinstance(stroke, Text)
    ]


@pytest.mark.parametrize(
    ("key", "entered", "title"),
    [
        ("fit", {"nominal": "1 1/4", "hole": "H8", "shaft": "f7"}, "Fit, 1 1/4 in H8/f7"),
        ("fit", {"nominal": "40 mm", "job": "press"}, "Fit, 40 mm H7/p6"),
        ("inch-fit", {"nominal": "25 mm", "fit": "RC4"}, "Inch fit, 25 mm RC4"),
        ("shop-fit", {"nominal": "1 1/2", "fit": "forced"}, "Workshop fit of 1914, 1 1/2 in forced"),
        ("keyway", {"shaft_diameter": "1.125", "standard": "bs46"}, "Keyway, 1.125 in shaft, BS 46"),
    ],
)
def test_title_when_a_size_was_typed_then_it_is_named_as_typed(key, entered, title):
    found = run(key, **entered)
    assert found.calculation.title_of(found.inputs, found.readings) == title


def test_inch_fit_when_shown_then_limits_to_four_places_and_the_row_it_comes_from():
    """1 in RC4: 1.0000 to 1.0012, 0.9984 to 0.9992 (Machinery's Handbook 31, Table 8a)."""
    shown = answer("inch-fit", **KEPT["inch-fit"])
    assert shown["big"] == "Shaft 0.9984 to 0.9992 in"
    assert "Table" in shown["under"]
    assert {fact["label"]: fact["value"] for fact in shown["facts"]}["Clearance"] == "0.0008 to 0.0028"
    assert "figures in thou" in " ".join(words(shown))
    assert "+1.2" in words(shown)


def test_inch_fit_when_a_limit_has_a_fifth_place_then_it_is_shown():
    """1/4 in RC1: shaft -0.2 and -0.35 thou (Machinery's Handbook 31, Table 8a)."""
    assert answer("inch-fit", nominal="5/16", fit="RC1")["big"] == "Shaft 0.31215 to 0.31230 in"


def test_shop_fit_when_shown_then_it_is_marked_as_of_1914():
    shown = answer("shop-fit", **KEPT["shop-fit"])
    assert shown["big"] == "Shaft 1.5030 to 1.5040 in"
    assert "1914" in shown["over"]
    assert "no standard" in shown["under"]


def test_press_fit_when_shown_then_pressure_hoop_and_heat_in_both_measures():
    shown = answer("press-fit", **KEPT["press-fit"])
    assert shown["big_small"].endswith(" psi")
    labels = {fact["label"] for fact in shown["facts"]}
    assert {"Hoop stress at the hub’s bore", "Hub warmer than the shaft by"} <= labels
    assert "Axial force it holds" not in labels
    assert any(text.startswith("pressure ") for text in words(shown))


def test_fit_when_chosen_by_job_then_it_is_shown_with_its_symbols():
    shown = answer("fit", nominal="40 mm", job="press")
    assert shown["big"] == "Shaft 40.026 to 40.042 mm"
    assert shown["sizes"]["columns"] == ["Hole H7", "Shaft p6"]
