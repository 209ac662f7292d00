"""Cards drawn and sums worked out, without the site round them."""

import io
import time
from collections.abc import Callable
from functools import partial
from statistics import median
from typing import Any

from calc import pdf, registry, runs
from calc.catalogue.indexing import INDEXING
from tests.factories import GEARS, PLATES

FACES = [
    [int(hole) for hole in face.split(",")] for _, first, second in PLATES for face in (first, second) if face
]
#: What is entered in the sums besides dividing, by their keys.
ENTERED = {
    "spur-gear": {"teeth": "84", "mate_teeth": "18", "diametral_pitch": "6 DP"},
    "keyway": {"shaft_diameter": "1 1/4 in", "standard": "bs46"},
    "fit": {"nominal": "1 1/4 in", "hole": "H7", "shaft": "f7"},
}
CHANGE_GEARS = [int(gear) for gear in GEARS.split(",")]


def loop() -> int:
    """Something to set a sum against, that takes about as long."""
    return sum(number for number in range(10_000))


def medians(acts: dict[str, Callable[[], object]], rounds: int, least: float = 0.02) -> dict[str, float]:
    """Median seconds for one go of each act; in every round each has its turn, long enough to be timed."""
    goes = {name: _goes_in(act, least) for name, act in acts.items()}
    took: dict[str, list[float]] = {name: [] for name in acts}
    for _ in range(rounds):
        for name, act in acts.items():
            took[name].append(_seconds(act, goes[name]))
    return {name: median(each) for name, each in took.items()}


def _goes_in(act: Callable[[], object], least: float) -> int:
    goes = 1
    while _seconds(act, goes) * goes < least:
        goes *= 2
    return goes


def _seconds(act: Callable[[], object], goes: int) -> float:
    begin = time.perf_counter()
    for _ in range(goes):
        act()
    return (time.perf_counter() - begin) / goes


def bare_page() -> bytes:
    """One page of A4 with a line on it, by the library that draws the cards."""
    from reportlab.lib.pagesizes import A4
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    canvas.drawString(72, 720, "Marlpit")
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def cards(sheet: dict[str, Any], rounds: int) -> dict[str, float]:
    """Seconds for a card of 84 teeth on each paper, and for the bare page."""
    return medians(
        {
            "bare page": bare_page,
            "A4": lambda: pdf.render_card({**sheet, "paper": "A4"}),
            "A5": lambda: pdf.render_card({**sheet, "paper": "A5"}),
        },
        rounds,
    )


def indexings(rounds: int) -> dict[str, float]:
    """Seconds for `indexing` on a head of 40 to 1 by what is asked; and for a loop to set it against."""
    work = INDEXING.function
    plain = {"circles": FACES, "ratio": 40}
    return medians(
        {
            "a loop of 10,000 additions": loop,
            "84 divisions": lambda: work(divisions=84, **plain),
            "84 divisions, change gears": lambda: work(divisions=84, change_gears=CHANGE_GEARS, **plain),
            "127 divisions, change gears": lambda: work(divisions=127, change_gears=CHANGE_GEARS, **plain),
        },
        rounds,
    )


def others(rounds: int) -> dict[str, float]:
    """Seconds for each of the other sums, read from the entries as typed; and for the loop."""
    catalogue = registry.catalogue()
    acts = {key: partial(runs.run, catalogue[key], entered) for key, entered in ENTERED.items()}
    return medians({"a loop of 10,000 additions": loop, **acts}, rounds)
