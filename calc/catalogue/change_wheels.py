"""What change wheels ask for, what they hand back, and how they are spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import change_wheels as limits
from calc.kernel import trains
from calc.kernel.change_wheels import change_wheels
from calc.kernel.wording import decimal_text, exact, mixed_text


def row_text(row: Any) -> str:
    """A train as it is set up: ``40 driving 100``, ``40 × 50 driving 63 × 100``."""
    return trains.train_words(trains.Train(tuple(row["drivers"]), tuple(row["driven"])))


def pitch_text(inputs: dict[str, Any], screw: str = "") -> str:
    """A thread as it was asked for: ``5 to the inch``, ``1.5 mm``."""
    return pitch_words(inputs[f"{screw}pitch"], inputs[f"{screw}threads_per_inch"])


def train_line(row: Any) -> str:
    """A train pair by pair, as it is put on: ``20 driving 50, 63 driving 80``."""
    return ", ".join(f"{one} driving {two}" for one, two in zip(row["drivers"], row["driven"], strict=True))


def pitch_words(pitch: Any, tpi: Any) -> str:
    """A thread by what was entered of it: ``5 to the inch``, ``1.5 mm``."""
    if tpi is not None:
        return f"{mixed_text(exact(tpi))} to the inch"
    return f"{decimal_text(exact(pitch), 4)} mm"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return row_text((results["exact_trains"] or results["nearest_trains"])[0])


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Change wheels, {pitch_text(inputs)} on a screw of {pitch_text(inputs, 'screw_')}"


def thread_entries(field: str, what: str, optional_label: str) -> tuple[Input, Input]:
    """A pitch, and the threads to the inch that say the same."""
    return (
        Input(
            name=f"{field}pitch", label=f"Pitch of {optional_label}", kind="length", optional=True,
            help=f"Of {what}, one thread to the next: 1.5 mm. Or its threads to the inch.",
            low=limits.PITCH_MM[0], high=limits.PITCH_MM[1], reason=limits.PITCH_REASON,
        ),
        Input(
            name=f"{field}threads_per_inch", label=f"Threads to the inch of {optional_label}",
            kind="number", optional=True,
            help=f"Of {what}: 8, 11 1/2. Or its pitch.",
            low=limits.TPI[0], high=limits.TPI[1], reason=limits.TPI_REASON,
        ),
    )  # fmt: skip


def wheels_entry(name: str, label: str) -> Input:
    """The wheels that are owned."""
    return Input(
        name=name, label=label, kind="counts",
        help="Teeth of each, with commas; one that is owned twice is written twice.",
        low=Fraction(trains.WHEEL[0]), high=Fraction(trains.WHEEL[1]), most=trains.WHEELS_MOST,
        reason=trains.WHEEL_REASON,
    )  # fmt: skip


CHANGE_WHEELS = Calculation(
    key="change-wheels",
    title="Change wheels",
    summary="Wheels for a thread on a lathe’s lead screw, exact or the nearest, out of those owned.",
    revision=1,
    about=(
        "Trains of change wheels between the spindle of a lathe and its lead screw, of one pair or two, "
        "for inch and metric threads on either screw. Where no train is exact the nearest are told, with "
        "what each is out over an inch and over 25 mm. It knows the teeth of the wheels, not the reach of "
        "the quadrant or a gearbox."
    ),
    example={
        "pitch": "1 mm",
        "screw_threads_per_inch": "8",
        "wheels_owned": "20, 25, 30, 35, 38, 40, 45, 50, 55, 60, 63, 65, 70, 75, 80",
    },
    inputs=(
        *thread_entries("", "the thread to be cut", "the thread"),
        *thread_entries("screw_", "the lead screw", "the lead screw"),
        wheels_entry("wheels_owned", "Wheels owned"),
    ),
    outputs=(
        Output(name="pitch_mm", unit="millimetre", help="Of the thread to be cut."),
        Output(name="screw_pitch_mm", unit="millimetre", help="Of the lead screw."),
        Output(name="train_ratio", unit="", help="Product of the drivers over product of the driven."),
        Output(name="exact_trains", unit="", help="Trains that cut it exactly, the simplest first."),
        Output(name="exact_trains_count", unit="count", help="How many there are, listed or not."),
        Output(
            name="nearest_trains", unit="", help="Where none is exact: the nearest, with what they are out."
        ),
        Output(name="missing_factor", unit="count", help="A prime that no wheel owned has, and one must."),
        Output(name="half_nut_every_mm", unit="millimetre", help="Travel after which the half nut fits."),
        Output(name="half_nut_turns", unit="count", help="Turns of the lead screw for that."),
    ),
    function=change_wheels,
    headline=headline,
    subject=subject,
)
