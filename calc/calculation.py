"""What a calculation is: its entries, its results, its limits, and the kernel function behind it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from calc.kernel.working import Outcome

#: count: int; angle: degrees, Fraction; length: millimetres, Fraction; pitch: diametral pitch, to the
#: inch, Fraction; module: millimetres, Fraction; number: a bare figure, Fraction, which may be below
#: nought; symbol: letters and figures as typed (`H7`); circles: tuple of faces, each a tuple of int;
#: counts: tuple of int; choice: str; thread and drill: the name that can be read in one way (`1/4 BSF`,
#: `#24`); drills: tuple of such names; lengths: tuple of millimetres, Fraction; torque: newton metres, power:
#: watts, stress: megapascals, expansion: per °C, rpm: turns a minute, each a Fraction;
#: speed: of cutting, metres a minute, Fraction; taper: the name of one in the table; rate: on the diameter,
#: Fraction; scale: model over full size, mass: kilograms, density: kilograms to the cubic metre, contraction:
#: inches to the foot of casting, each a Fraction. More kinds come with the sums that need them.
Kind = Literal[
    "count", "angle", "length", "pitch", "module", "number", "symbol", "circles", "counts", "choice",
    "thread", "drill", "drills", "taper", "rate", "lengths", "torque", "power", "stress", "expansion", "rpm",
    "speed", "scale", "mass", "density", "contraction",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One entry of a calculation."""

    name: str
    label: str  # "Divisions", the heading over the entry
    kind: Kind
    help: str  # one line under the entry
    low: Fraction | None = None
    high: Fraction | None = None
    reason: str = ""  # why the limits are there
    most: int | None = None  # the longest list of counts or circles
    most_to_a_face: int | None = None  # the most circles on one face
    default: str | None = None  # as a builder would type it
    optional: bool = False
    seldom: bool = False  # folds away on the page: few builders ever type it
    choices: tuple[tuple[str, str], ...] = ()  # value, words
    left_out: str = "as usual"  # what leaving a choice out is called


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """One result of a calculation: its name ends in its unit."""

    name: str
    unit: str  # "count", "degree", "arcsecond", "" for text
    help: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """One thing that can be worked out: its entries, its results and the kernel function."""

    key: str  # "indexing", also the address
    title: str
    summary: str  # the line in the list
    revision: int
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    function: Callable[..., Outcome]
    headline: Callable[
        [dict[str, Any], dict[str, Any]], str
    ]  # (inputs, results) -> "20 spaces in the 42 circle"
    subject: Callable[[dict[str, Any]], str]  # inputs -> "Indexing, 84 divisions"
    #: What it is for, when to use it and what it does not do, in trade words: two to four sentences.
    about: str = ""
    #: Entries as a builder would type them, worked out as they stand: the page's "an example".
    example: Mapping[str, str] = field(default_factory=dict)
    #: The same with each size as it was typed, by name of its entry; none where no size is named.
    subject_typed: Callable[[dict[str, Any], Mapping[str, str]], str] | None = None

    def title_of(self, inputs: dict[str, Any], readings: Mapping[str, str]) -> str:
        """What was asked in one line, sizes as they were typed: "Fit, 1 1/4 in H8/f7"."""
        if self.subject_typed is None:
            return self.subject(inputs)
        typed = {name: reading.partition(" = ")[0] for name, reading in readings.items()}
        return self.subject_typed(inputs, typed)
