"""Orders, worked out: what came of each line, what is owed, what it costs, how long a supplier takes."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from buildlog.clock import day_words
from buildlog.models import Order, OrderLine, Supplier
from buildlog.money import money
from buildlog.waiting.counting import Count
from buildlog.waiting.rows import waits_before
from buildlog.waiting.standing import Standing


@dataclass(frozen=True)
class OrderLineRow:
    """One line of an order with what happened to it."""

    line: OrderLine
    count: Count
    price: str
    amount: str
    promised: str
    overdue: int
    holds_up: int


@dataclass(frozen=True)
class OrderRow:
    """An order in the list of orders."""

    order: Order
    castings: int
    owed: int
    unseen: int
    promised: str
    overdue: int
    holds_up: int


@dataclass(frozen=True)
class SupplierRow:
    """A supplier, what is still to come, and how long it took before."""

    supplier: Supplier
    orders: int
    owed: int
    waits: tuple[int, ...]  # days, the shortest first

    @property
    def waits_words(self) -> str:
        """`28 to 96 days`."""
        if not self.waits:
            return "nothing has come yet"
        low, high = self.waits[0], self.waits[-1]
        return f"{low} to {high} days" if low != high else f"{low} day{'' if low == 1 else 's'}"


def line_rows(standing: Standing, lines: Iterable[OrderLine], currency: str) -> list[OrderLineRow]:
    """The lines of one order."""
    found = []
    for line in lines:
        count = standing.counts.get((line.casting_id, line.pk), Count())
        amount = line.price * count.ordered if line.price is not None else None
        found.append(
            OrderLineRow(
                line=line,
                count=count,
                price=money(line.price, currency),
                amount=money(amount, currency),
                promised=day_words(count.promised_on, standing.today) if count.owed else "",
                overdue=_overdue(count, standing.today),
                holds_up=len(standing.holding_of(line.casting_id).parts),
            )
        )
    return found


def total_of(rows: Sequence[OrderLineRow], currency: str) -> tuple[str, int]:
    """The amount of the lines whose price is known, and how many have none."""
    known = [row.line.price * row.count.ordered for row in rows if row.line.price is not None]
    return money(sum(known, Decimal(0)) if known else None, currency), len(rows) - len(known)


def order_rows(standing: Standing, orders: Iterable[Order]) -> list[OrderRow]:
    """Every order, in the order given."""
    lines: dict[int, list[tuple[int, Count]]] = {}
    for line in standing.facts.lines:
        count = standing.counts.get((line.casting, line.pk), Count())
        lines.setdefault(line.order, []).append((line.casting, count))
    return [_order_row(standing, order, lines.get(order.pk, [])) for order in orders]


def _order_row(standing: Standing, order: Order, lines: Sequence[tuple[int, Count]]) -> OrderRow:
    owed = [(casting, count) for casting, count in lines if count.owed]
    promised = min((count.promised_on for _, count in owed if count.promised_on), default=None)
    held = frozenset[int]().union(*(standing.holding_of(casting).parts for casting, _ in owed))
    return OrderRow(
        order=order,
        castings=sum(count.ordered for _, count in lines),
        owed=sum(count.owed for _, count in owed),
        unseen=sum(count.unseen for _, count in lines),
        promised=day_words(promised, standing.today) if owed else "",
        overdue=max((_overdue(count, standing.today) for _, count in owed), default=0),
        holds_up=len(held),
    )


def supplier_rows(
    standing: Standing, suppliers: Iterable[Supplier], orders: Sequence[OrderRow]
) -> list[SupplierRow]:
    """Every supplier with its orders."""
    before = waits_before(standing)
    found = []
    for supplier in suppliers:
        mine = [row for row in orders if row.order.supplier_id == supplier.pk]
        waits = tuple(sorted(before.get(supplier.name, [])))
        found.append(SupplierRow(supplier, len(mine), sum(row.owed for row in mine), waits))
    return found


def _overdue(count: Count, today: date) -> int:
    return max((today - count.promised_on).days, 0) if count.owed and count.promised_on else 0
