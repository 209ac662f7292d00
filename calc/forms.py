"""Entries of a sum as a form: text as typed, how each was read, what is wrong with it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from django import forms

from calc import records
from calc.calculation import Calculation, Input
from calc.entries import EntryErrors, limits_text, read_entries
from calc.kernel.errors import NoSolution

#: Entries of which one answers for the other: an address that gives the one leaves the other empty.
EITHER_OR = (
    ("divisions", "angle"),
    ("diametral_pitch", "module"),
    ("taper_diametral_pitch", "taper_module"),
    ("torque", "power"),
    ("pitch", "threads_per_inch"),
    ("screw_pitch", "screw_threads_per_inch"),
)
LONG_KINDS = ("circles", "counts", "drills")
#: Signs, with their buttons, that fit side by side in the column of entries.
WIDEST_PICKS = 30
#: Entries folded away that are all named over the fold.
MOST_NAMED = 6
SELDOM_KINDS = ("angle", "circles", "counts")


class Offered(NamedTuple):
    """What the site fills in for an entry, and where it has it from."""

    text: str
    note: str  # "from the part: 84 teeth"
    of_head: bool = False  # another head fills in another
    taken: records.Taken | None = None  # the kept sum it is taken from, and which figure of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry as the page shows it."""

    name: str
    label: str
    kind: str
    value: str
    note: str  # the line under it
    help: str
    limits: str
    echo: str  # how it was read; empty where it was not read, or the line under it says the same
    error: str
    choices: list[tuple[str, str, bool]]
    is_tall: bool  # its choices do not fit side by side
    is_long: bool
    rows: int
    is_wanted: bool  # nothing can be worked out without it, or without the one that may stand for it
    is_more: bool  # folds away with the seldom used ones
    is_filled: bool  # the site has filled it in

    @property
    def id(self) -> str:
        return f"e-{self.name}"

    @property
    def described_by(self) -> str:
        return " ".join(f"{self.id}-{part}" for part in ("read", "note") if part == "read" or self.note)


class SumForm(forms.Form):
    """The entries of one calculation; valid when it could be worked out, or has no solution."""

    found: records.Run | None = None
    no_solution: NoSolution | None = None

    def __init__(
        self,
        calculation: Calculation,
        data: Mapping[str, str] | None = None,
        *,
        offered: Mapping[str, Offered] | None = None,
        unit: str = "inch",
        row: str = "",
    ) -> None:
        super().__init__(data)
        self.calculation, self.offered, self.unit, self.row = calculation, offered or {}, unit, row
        self.readings: dict[str, str] = {}
        for field in calculation.inputs:
            # The text goes to the reader as it was typed, so that a message can speak of what was typed.
            self.fields[field.name] = forms.Field(required=False, label=field.label, help_text=field.help)

    def clean(self) -> dict[str, Any]:
        """Read every entry, then work the sum out."""
        for field in self.calculation.inputs:
            reading, error = read_one(self.calculation, field, self.typed(field), self.unit)
            if error:
                self.add_error(field.name, error)
            else:
                self.readings[field.name] = reading
        if not self.errors:
            self._work()
        return dict(self.cleaned_data)

    def _work(self) -> None:
        entered = {field.name: self.typed(field) for field in self.calculation.inputs}
        try:
            chosen = records.read_chosen(self.row)
            self.found = records.run(self.calculation, entered, unit=self.unit, chosen=chosen)
        except NoSolution as none:
            self.no_solution = none
        except EntryErrors as wrong:
            for name, message in wrong.messages.items():
                self.add_error(name if name in self.fields else None, message)

    def typed(self, field: Input) -> str:
        """The text of an entry: as it was sent, or as it is filled in."""
        return str(self.data.get(field.name, "")) if self.is_bound else self.filled_in(field.name)

    def filled_in(self, name: str) -> str:
        """The text of an entry before anybody types: as the site offers it, or as is usual."""
        return filled_in(self.calculation, self.offered)[name]

    @property
    def entries(self) -> Iterator[Entry]:
        return (self.entry(field) for field in self.calculation.inputs)

    @property
    def first(self) -> list[Entry]:
        """Those always in sight."""
        return [entry for entry in self.entries if not entry.is_more]

    @property
    def more(self) -> list[Entry]:
        """Those that fold away: a builder seldom types them."""
        return [entry for entry in self.entries if entry.is_more]

    @property
    def more_words(self) -> str:
        """What folds away, in a line: `Angle of one move, change gears owned`; of many the first few."""
        labels = [entry.label for entry in self.more]
        shown = labels if len(labels) <= MOST_NAMED else [*labels[: MOST_NAMED - 2], "and others"]
        return ", ".join(shown).capitalize()

    @property
    def more_is_open(self) -> bool:
        """Whether one of them was really typed, or is wrong."""
        return any(
            entry.error or (entry.value.strip() and entry.value != self.filled_in(entry.name))
            for entry in self.more
        )

    @property
    def asks_for_head(self) -> bool:
        """Whether own plates would fill something in."""
        return any(field.kind == "circles" for field in self.calculation.inputs)

    @property
    def wrong(self) -> list[Entry]:
        return [entry for entry in self.entries if entry.error]

    def entry(self, field: Input) -> Entry:
        """One entry with all that is shown about it."""
        value, offered = self.typed(field), self.offered.get(field.name)
        is_filled = offered is not None and value == offered.text
        errors = self.errors.get(field.name) if self.is_bound else None
        chosen = value.strip().lower() or (field.default or "")
        return Entry(
            name=field.name,
            label=field.label,
            kind=field.kind,
            value=value,
            note=offered.note if offered and is_filled else field.help,
            help=field.help,
            limits=limits_text(field, inches=self.unit != "mm"),
            echo=""
            if is_filled and self.readings.get(field.name) == value
            else self.readings.get(field.name, ""),
            error=str(errors[0]) if errors else "",
            choices=[(name, words, name.lower() == chosen) for name, words in _choices(field)],
            is_tall=sum(len(words) + 4 for _, words in _choices(field)) > WIDEST_PICKS,
            is_long=field.kind in LONG_KINDS,
            rows=7 if field.kind == "circles" else 2,
            is_wanted=not field.optional or any(field.name in pair for pair in EITHER_OR),
            is_more=field.seldom or (field.optional and field.kind in SELDOM_KINDS),
            is_filled=is_filled,
        )


def _choices(field: Input) -> tuple[tuple[str, str], ...]:
    """The choices of an entry; one that may be left out can be left out again once something was chosen."""
    may_be_left_out = field.choices and field.optional and field.default is None
    return (*((("", field.left_out),) if may_be_left_out else ()), *field.choices)


def read_one(calculation: Calculation, field: Input, text: str, unit: str) -> tuple[str, str]:
    """How one entry by itself is read, and what is wrong with it; one of the two is empty."""
    alone = replace(calculation, inputs=(field,))
    try:
        read = read_entries(alone, {field.name: text}, unit="mm" if unit == "mm" else "inch")
    except EntryErrors as wrong:
        return "", wrong.messages[field.name]
    return read.readings.get(field.name, ""), ""


def filled_in(calculation: Calculation, offered: Mapping[str, Offered]) -> dict[str, str]:
    """Every entry as the site offers it, or as is usual."""
    return {
        field.name: offered[field.name].text if field.name in offered else field.default or ""
        for field in calculation.inputs
    }


def from_address(
    calculation: Calculation, query: Mapping[str, str], offered: Mapping[str, Offered]
) -> dict[str, str]:
    """The entries an address gives; those it does not name are filled in."""
    given = {field.name: query[field.name] for field in calculation.inputs if field.name in query}
    filled = filled_in(calculation, offered)
    for one, other in (*EITHER_OR, *(pair[::-1] for pair in EITHER_OR)):
        if given.get(one) and other not in given and other in filled:
            filled[other] = ""
    return filled | given
