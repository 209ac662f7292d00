"""What a kept taper puts on a work card: the slide, the tailstock, the sine bar, the ends."""

from calc.answers import taper
from calc.answers.card_shapes import (
    TURNING_CAUTION,
    Asked,
    CardSum,
    Role,
    Shown,
    Typed,
    case_of,
    picture_of,
    stopped_by,
)
from calc.answers.card_shapes import share as empty_share
from calc.catalogue.taper import angle_text, is_key
from calc.kernel.units import Unit
from calc.kernel.wording import dms_text, exact
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Say

KIND = "taper"
WORDS = "a taper"
ROLE: Role = "work"
ASKS: frozenset[Asked] = frozenset()
#: What a taper is spoiled by first. common practice, no source
ON_CENTRE: Say = {
    "strong": "Tool dead on centre, or the sides are not straight.",
    "text": "Try it with blue before the last cut.",
}
LENGTHS = (
    ("Tailstock set over", "tailstock_set_over_mm"),
    ("Under one roller of the sine bar", "sine_bar_height_mm"),
    ("Large end", "large_diameter_mm"),
    ("Small end", "small_diameter_mm"),
    ("Length of the taper", "length_mm"),
)


def unit_of(record: CalculationRecord) -> Unit:
    return taper.unit_of(case_of(record))


def share(record: CalculationRecord, typed: Typed) -> CardSum:
    """The card's share of a kept taper."""
    results, shown, is_face = record.results, Shown(unit_of(record), typed.is_mixed), is_key(record.inputs)
    name = record.inputs.get("name") or ""
    what = f"Cut the {name} slope" if is_face else f"Turn the {name} taper".replace("  ", " ")
    made = empty_share(KIND, f"{name} taper".strip(), what, ROLE)
    ends = [(label, results[field]) for label, field in LENGTHS[2:] if results[field] is not None]
    made |= {
        "figures": _figures(record, shown, is_face=is_face),
        "notes": [*stopped_by(record, taper.BEWARE), *([] if is_face else [ON_CENTRE])],
        "picture": picture_of(record, "taper"),
        "stops": "after a cut, measured",
        "sizes": [{"wanted": shown.wanted(shown.fine(mm)), "note": label.lower()} for label, mm in ends],
        "units": shown.word,
        "cautions": [TURNING_CAUTION],
    }
    return made


def _figures(record: CalculationRecord, shown: Shown, *, is_face: bool) -> list[BigFigure]:
    results = record.results
    angle = results["face_angle_deg" if is_face else "half_angle_deg"]
    figures: list[BigFigure] = [
        {
            "label": "Sloping face set to" if is_face else "Compound slide, half angle",
            "value": angle_text(angle),
            "unit": dms_text(exact(angle), 0),
            "rank": 67,
        }
    ]
    figures += [
        {"label": label, "value": shown.fine(results[field]), "unit": shown.beside(), "rank": 67}
        for label, field in LENGTHS
        if results[field] is not None
    ]
    return figures
