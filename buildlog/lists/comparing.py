"""A list held against the build: row by row new, changed, same or wrong; what accepting would write."""

import hashlib
import json
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from buildlog.lists.cells import CellError, Unit, read_field, read_key, read_quantity, same_text, size_echo
from buildlog.lists.columns import FIELDS, Column
from buildlog.lists.formulas import disarm_undone
from buildlog.lists.placing import Place, Placer
from buildlog.lists.reading import ReadList, ReadRow
from buildlog.lists.standing import Key, Standing, standing_of
from buildlog.models import Build, Kind, Part, PartUse, Stage, casting_sense
from buildlog.numbers import key_of

STATES = ("wrong", "new", "changed", "same")


@dataclass(frozen=True)
class Change:
    """One thing that accepting a row would change."""

    column: str
    was: str
    becomes: str


@dataclass
class Row:
    """One row of the list and what became of it."""

    line: int
    cells: dict[str, str]
    name: str = ""
    quantities: dict[Key, int | None] = field(default_factory=dict)
    place: Place | None = None
    faults: list[tuple[str, str]] = field(default_factory=list)  # column, reason
    changes: list[Change] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    is_new: bool = False

    @property
    def state(self) -> str:
        if self.faults:
            return "wrong"
        if self.is_new:
            return "new"
        return "changed" if self.changes else "same"

    @property
    def key(self) -> str:
        """The parts it is about, or what stands in its number cell."""
        return ", ".join(key_of(*key) for key in self.quantities) or self.cells.get("number", "").strip()[:40]

    @property
    def where(self) -> str:
        """How many it asks for, and in which assembly."""
        counts = [
            f"{count}{key[1] if len(self.quantities) > 1 else ''}" for key, count in self.quantities.items()
        ]
        if None in self.quantities.values():
            counts = []
        return " in ".join(
            text for text in (", ".join(counts), self.place.code if self.place else "") if text
        )

    def fault(self, column: str, reason: str) -> None:
        if (column, reason) not in self.faults:
            self.faults.append((column, reason))

    def remark(self, text: str) -> None:
        if text not in self.remarks:
            self.remarks.append(text)


@dataclass
class UsePlan:
    """How many of a part in one assembly, once the list is accepted."""

    place: Place
    quantity: int
    stands: PartUse | None


@dataclass
class PartPlan:
    """What accepting the list does to one part; `part` of a new one is None until it is written."""

    key: Key
    part: Part | None
    is_new: bool
    values: dict[str, str] = field(default_factory=dict)
    uses: list[UsePlan] = field(default_factory=list)
    needed_before: int = 0
    needed_after: int = 0

    @property
    def changed_uses(self) -> list[UsePlan]:
        return [use for use in self.uses if use.stands and use.stands.quantity != use.quantity]

    @property
    def new_uses(self) -> list[UsePlan]:
        return [use for use in self.uses if use.stands is None]


@dataclass(frozen=True)
class Preview:
    """What a list would do to the build as it is now."""

    rows: list[Row]
    plans: list[PartPlan]
    assemblies: list[Place]
    unmentioned: int
    standing: Standing

    @property
    def counts(self) -> dict[str, int]:
        found = Counter(row.state for row in self.rows)
        return {state: found[state] for state in STATES}

    @property
    def can_accept(self) -> bool:
        counts = self.counts
        return not counts["wrong"] and bool(counts["new"] or counts["changed"])

    @property
    def new_parts(self) -> int:
        return sum(plan.is_new for plan in self.plans)

    @property
    def changed_parts(self) -> int:
        return sum(
            bool(plan.values or plan.new_uses or plan.changed_uses) for plan in self.plans if not plan.is_new
        )

    @property
    def digest(self) -> str:
        """Stands for everything the preview shows; another digest, another outcome."""
        shown = [
            [row.line, row.key, row.state, row.faults, row.remarks]
            + [[change.column, change.was, change.becomes] for change in row.changes]
            for row in self.rows
        ]
        made = [[place.code, place.name] for place in self.assemblies]
        return hashlib.sha256(json.dumps([shown, made]).encode()).hexdigest()


def compare(build: Build, read: ReadList) -> Preview:
    """Hold a list against the build as it is now; three queries, whatever its length."""
    return _Comparison(standing_of(build), read).preview()


class _Comparison:
    """The steps of a comparison, and what they share."""

    def __init__(self, standing: Standing, read: ReadList) -> None:
        self.standing = standing
        self.placer = Placer(standing.assemblies)
        self.columns = [column for column in FIELDS if column.key in read.columns]
        self.unit: Unit = "inch" if standing.build.units == "inch" else "mm"
        self.rows = [self._begun(row) for row in read.rows]
        self.code_of = standing.code_of

    def preview(self) -> Preview:
        of_part: dict[Key, list[Row]] = defaultdict(list)
        for row in self.rows:
            for key in row.quantities:
                of_part[key].append(row)
        plans = [self._settled(key, rows) for key, rows in of_part.items()]
        mentioned = sum(plan.part is not None for plan in plans)
        return Preview(
            self.rows, plans, self.placer.to_make, len(self.standing.parts) - mentioned, self.standing
        )

    def _begun(self, read: ReadRow) -> Row:
        """A row with its part, its quantity and its assembly read."""
        row = Row(read.line, read.cells, name=" ".join(read.cells.get("name", "").split())[:120])
        if read.fault:
            row.fault("", read.fault)
            return row
        self._place(row)
        quantity = self._quantity(row)
        try:
            number, hand = self._key(read.cells.get("number", ""), read.cells.get("hand", ""))
        except CellError as wrong:
            row.fault(wrong.column or "number", str(wrong))
            self._check_the_rest(row)
            return row
        if isinstance(quantity, dict):
            self._split(row, number, hand, quantity)
        else:
            row.quantities = {(number, hand): quantity}
        return row

    def _place(self, row: Row) -> None:
        if not row.cells.get("assembly", "").strip():
            return
        try:
            row.place, said = self.placer.find(row.cells["assembly"])
        except CellError as wrong:
            row.fault("assembly", str(wrong))
        else:
            row.remarks += [said] if said else []

    def _quantity(self, row: Row) -> int | dict[str, int] | None:
        try:
            return read_quantity(row.cells.get("quantity", ""))
        except CellError as wrong:
            row.fault("quantity", str(wrong))
            return None

    def _key(self, number: str, hand: str) -> Key:
        # What the build has under exactly these signs is that part, however odd its number looks.
        key = (number.strip().upper(), hand.strip().upper())
        return key if key in self.standing.parts else read_key(number, hand)

    def _check_the_rest(self, row: Row) -> None:
        """With no part to settle, what is wrong in the other cells is told all the same."""
        for column in self.columns:
            try:
                read_field(column, row.cells.get(column.key, ""), self.unit)
            except CellError as wrong:
                row.fault(column.key, str(wrong))

    def _split(self, row: Row, number: str, hand: str, quantity: dict[str, int]) -> None:
        """One row for both hands: a record for each."""
        row.quantities = {(number, side): count for side, count in sorted(quantity.items())}
        row.remark("2 records: left and right")
        if hand:
            row.fault(
                "quantity",
                "names both hands, and the row names one. Leave the hand empty, or write one number.",
            )
        if (number, "") in self.standing.parts:
            row.remark(f"{number} without a hand is in the build too, and stays")

    def _settled(self, key: Key, rows: Sequence[Row]) -> PartPlan:
        """What all the rows of one part together do to it."""
        part = self.standing.parts.get(key)
        plan = PartPlan(key, part, is_new=part is None)
        for column in self.columns:
            self._settle_field(plan, rows, column)
        if part is None:
            self._complete_new(plan, rows)
        for row in rows:
            row.name = row.name or plan.values.get("name", part.name if part else "")
        self._settle_uses(plan, rows)
        self._say_what_follows(plan, rows)
        return plan

    def _settle_field(self, plan: PartPlan, rows: Sequence[Row], column: Column) -> None:
        stands = str(getattr(plan.part, column.field)) if plan.part else ""
        found: list[tuple[Row, str]] = []
        for row in rows:
            try:
                value = self._value(
                    column, row.cells.get(column.key, ""), stands, is_known=plan.part is not None
                )
            except CellError as wrong:
                row.fault(column.key, str(wrong))
                continue
            if value:
                found.append((row, value))
        for row, value in found[1:]:
            first, said = found[0]
            if value != said and row is not first:
                row.fault(
                    column.key,
                    f"“{value[:30]}” here, but “{said[:30]}” in row {first.line}, and both are "
                    f"{key_of(*plan.key)}. "
                    "Rows of one part say the same, or leave the cell empty.",
                )
        if not found and (plan.part is None or not column.clears):
            return
        value = found[0][1] if found else ""
        if plan.part is None or value != stands:
            plan.values[column.field] = value
        if plan.part is not None and value != stands:
            rows[0].changes.append(Change(column.key, stands, value))
        if column.field == "leading_size" and value:
            echo = size_echo(value, self.unit)
            rows[0].remarks += [echo] if echo and echo not in rows[0].remarks else []

    def _value(self, column: Column, cell: str, stands: str, *, is_known: bool) -> str:
        if is_known and (same_text(cell, stands) or same_text(disarm_undone(cell), stands)):
            return stands
        text = read_field(column, cell, self.unit)
        if column.field == "casting_number" and casting_sense(text) == casting_sense(stands):
            return stands
        return text

    def _complete_new(self, plan: PartPlan, rows: Sequence[Row]) -> None:
        for row in rows:
            row.is_new = True
        if not plan.values.get("name") and not any(
            column == "name" for row in rows for column, _ in row.faults
        ):
            rows[0].fault("name", "a new part needs a name: write what it is called on the drawing.")
        if not plan.values.get("kind"):
            plan.values["kind"] = Kind.CASTING if plan.values.get("casting_number") else Kind.STOCK
        if plan.key in self.standing.binned:
            rows[0].remark(
                f"{key_of(*plan.key)} is in the bin too; this makes a new record and leaves that there"
            )

    def _settle_uses(self, plan: PartPlan, rows: Sequence[Row]) -> None:
        stand = self.standing.uses[plan.part.pk] if plan.part else {}
        taken: dict[Place, Row] = {}
        for row in rows:
            place = row.place or self._place_unsaid(plan, row, stand)
            if place is None:
                continue
            row.place = place
            if place in taken:
                row.fault(
                    "assembly",
                    f"{key_of(*plan.key)} is in {place.code} twice, in rows {taken[place].line} "
                    f"and {row.line}. "
                    "Put both quantities in one row.",
                )
                continue
            taken[place] = row
            self._plan_use(plan, row, place, stand.get(place.pk) if place.pk else None)
        plan.needed_before = sum(use.quantity for use in stand.values())
        plan.needed_after = (
            plan.needed_before
            + sum(use.quantity for use in plan.new_uses)
            + sum(use.quantity - use.stands.quantity for use in plan.changed_uses if use.stands)
        )
        left = [use for use in stand.values() if all(use is not planned.stands for planned in plan.uses)]
        if left and taken:
            where = " and ".join(f"{self.code_of[use.assembly_id]} ({use.quantity})" for use in left)
            rows[-1].remark(f"also used in {where}: left as it is")

    def _place_unsaid(self, plan: PartPlan, row: Row, stand: dict[int, PartUse]) -> Place | None:
        """Where a row without an assembly belongs; None where there is nothing to set."""
        quantity = row.quantities[plan.key]
        if any(column == "assembly" for column, _ in row.faults) or (plan.part and quantity is None):
            return None
        if len(stand) > 1:
            codes = " and ".join(self.code_of[pk] for pk in stand)
            row.fault("assembly", f"it is used in {codes}. Write in which of them this quantity is.")
            return None
        if stand:
            pk = next(iter(stand))
            return next(Place(item.code, item.name, pk) for item in self.standing.assemblies if item.pk == pk)
        place = self.placer.for_number(plan.key[0])
        row.remark(f"no assembly given: goes to {place}")
        return place

    def _plan_use(self, plan: PartPlan, row: Row, place: Place, stands: PartUse | None) -> None:
        quantity = row.quantities[plan.key]
        if quantity is None:
            quantity = stands.quantity if stands else 1
            if stands is None and not any(column == "quantity" for column, _ in row.faults):
                row.remark("no quantity given: 1")
        plan.uses.append(UsePlan(place, quantity, stands))
        if stands and stands.quantity != quantity:
            row.changes.append(Change(f"quantity in {place.code}", str(stands.quantity), str(quantity)))
        elif plan.part and stands is None:
            row.changes.append(Change(f"quantity in {place.code}", "", str(quantity)))

    def _say_what_follows(self, plan: PartPlan, rows: Sequence[Row]) -> None:
        part = plan.part
        rises = plan.needed_after > plan.needed_before
        if part and rises and Stage(part.stage).is_made and part.good < plan.needed_after:
            rows[0].remark(
                f"needs {plan.needed_after}, {part.good} are good: goes from {part.stage_mark.label.lower()} "
                "back to in hand"
            )
