"""Cards drawn and sums worked out, without the site round them."""

import io
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from statistics import median
from typing import Any

from calc import pdf, registry
from calc.catalogue.indexing import INDEXING
from calc.entries import read_entries
from calc.kernel.errors import NoSolution
from tests.factories import GEARS, PLATES

ROOT = Path(__file__).resolve().parents[2]
FACES = [
    [int(hole) for hole in face.split(",")] for _, first, second in PLATES for face in (first, second) if face
]
#: What is entered on the pages of sums besides dividing, by their keys.
ENTERED = {
    "spur-gear": {"teeth": "84", "mate_teeth": "18", "diametral_pitch": "6 DP"},
    "keyway": {"shaft_diameter": "1 1/4 in", "standard": "bs46"},
    "fit": {"nominal": "1 1/4 in", "hole": "H7", "shaft": "f7"},
}
#: Aims, in milliseconds: any sum but dividing; dividing with change gears for one count, and at the worst.
AIM_MS, AIM_INDEXING_MS, WORST_INDEXING_MS = 2, 30, 200
#: How many times the import of fractions and decimal the import of the kernel is to take at most.
AIM_IMPORT = 2
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


def every(rounds: int) -> dict[str, float]:
    """Seconds for the kernel's part of every sum's own example; and for the loop.

    Of `bevel-cutting` this is a step tried on a pair whose plan is kept; `bevel_pairs` times the plan.
    """
    acts: dict[str, Callable[[], object]] = {"a loop of 10,000 additions": loop}
    for key, calculation in registry.catalogue().items():
        inputs = read_entries(calculation, dict(calculation.example)).inputs
        acts[key] = partial(calculation.function, **inputs)
    return medians(acts, rounds)


def worst_indexing(most: int = 1000) -> tuple[int, float]:
    """The count to so many that dividing with change gears takes the longest for, and its seconds."""
    took: dict[int, float] = {}
    for divisions in range(2, most + 1):
        begin = time.perf_counter()
        with suppress(NoSolution):
            INDEXING.function(divisions=divisions, circles=FACES, ratio=40, change_gears=CHANGE_GEARS)
        took[divisions] = time.perf_counter() - begin
    # The slowest ten again, as something else may have had the processor.
    slowest = sorted(took, key=lambda divisions: -took[divisions])[:10]
    again = {divisions: _indexed(divisions) for divisions in slowest}
    worst = max(again, key=lambda divisions: again[divisions])
    return worst, again[worst]


def _indexed(divisions: int) -> float:
    def work() -> None:
        with suppress(NoSolution):
            INDEXING.function(divisions=divisions, circles=FACES, ratio=40, change_gears=CHANGE_GEARS)

    return median(_seconds(work, 1) for _ in range(5))


#: Each is timed in a Python of its own, that has imported nothing yet.
IMPORTS = {
    "fractions and decimal": "import fractions, decimal",
    "kernel, dividing": "import calc.kernel.indexing",
    "kernel, spur gear": "import calc.kernel.spur_gear",
    "kernel, every module": (
        "import importlib, pathlib\n"
        "for path in sorted(pathlib.Path('calc/kernel').glob('*.py')):\n"
        "    importlib.import_module('calc.kernel.' + path.stem)"
    ),
}


def imports(rounds: int) -> dict[str, float]:
    """Median seconds for each import in a fresh process; in every round each has its turn."""
    took: dict[str, list[float]] = {name: [] for name in IMPORTS}
    for _ in range(rounds):
        for name, code in IMPORTS.items():
            timed = f"import time\nbegin = time.perf_counter()\n{code}\nprint(time.perf_counter() - begin)"
            done = subprocess.run(
                [sys.executable, "-c", timed], cwd=ROOT, capture_output=True, text=True, check=True
            )
            took[name].append(float(done.stdout))
    return {name: median(each) for name, each in took.items()}
