"""The files of the demo’s stores, drawings and log agree with its parts; what waits follows from them."""

from collections import Counter
from fractions import Fraction

from tests.buildlog.demo_rows import FIRSTS, PARTS, PROGRESS, USES, WAITING, WAITS, is_made, rows


def test_stores_when_read_then_a_casting_came_before_the_part_that_is_made_of_it():
    for part, use in PARTS.items():
        begun = PROGRESS.get(part, {}).get("days ago")
        if begun and use["casting number"]:
            came = [
                int(row["days ago"])
                for row in rows("stores")
                if (row["casting"], row["what"]) == (use["casting number"], "accepted")
            ]
            assert max(came) >= int(begun), part


def test_stores_when_read_then_in_order_of_days_and_every_line_is_of_an_order():
    days = [int(row["days ago"]) for row in rows("stores")]
    assert days == sorted(days, reverse=True)
    orders = {row["order"]: row for row in rows("orders")}
    assert {row["order"] for row in rows("stores")} == set(orders)
    for row in rows("stores"):
        if row["what"] == "ordered":
            assert row["days ago"] == orders[row["order"]]["days ago"]
            assert Fraction(row["price"]) > 0
        assert bool(row["price"]) == (row["what"] == "ordered")
    assert {row["supplier"] for row in orders.values()} == {row["name"] for row in rows("suppliers")}


def test_castings_when_given_a_name_then_they_serve_several_parts_or_have_a_note():
    serve = Counter(use["casting number"] for use in PARTS.values())
    for row in rows("castings"):
        assert serve[row["casting"]], row
        short = row["name"] != next(u["name"] for u in USES if u["casting number"] == row["casting"])
        assert serve[row["casting"]] > 1 or row["note"] or short, row


def test_needs_and_mates_when_read_then_of_parts_that_are_there_and_nothing_in_a_circle():
    for row in rows("needs"):
        assert row["part"] in PARTS, row
        own = PARTS[row["part"]]["casting number"]
        assert row["needs"] in ("own casting", "casting", "made first")
        assert row["needs"] != "own casting" or own
        assert row["needs"] != "made first" or row["of"] in PARTS
        assert row["needs"] != "casting" or (row["of"] != own and row["quantity"])
    pairs = [frozenset(row.values()) for row in rows("mates")]
    assert len(set(pairs)) == len(pairs)
    assert set().union(*pairs) <= set(PARTS)
    assert {len(pair) for pair in pairs} == {2}
    before = {part: {first for one, first in FIRSTS if one == part} for part, _ in FIRSTS}
    while clear := {part for part, firsts in before.items() if not firsts & set(before)}:
        before = {part: firsts for part, firsts in before.items() if part not in clear}
    assert before == {}


def test_drawings_when_read_then_the_parts_are_at_the_last_issue_of_each():
    last = {row["sheet"]: row["issue"] for row in rows("drawings")}
    assert {f"{sheet} {issue}" for sheet, issue in last.items()} == {use["sheet"] for use in USES}
    got = {row["sheet"]: int(row["got days ago"]) for row in reversed(rows("drawings"))}
    assert min(got.values()) > max(int(row["days ago"] or 0) for row in PROGRESS.values())
    for row in rows("drawings"):
        assert int(row["dated days ago"]) >= int(row["got days ago"]), row["sheet"]
        assert row["title"], row
        assert row["place"], row


def test_log_when_read_then_of_the_days_on_which_the_parts_came_on():
    entries = rows("log")
    days = [int(row["days ago"]) for row in entries]
    assert days == sorted(days, reverse=True)
    assert (days[-2], days[-1]) == (257, 254)
    for row in entries:
        assert row["part"] == "" or row["part"] in PARTS
        assert 15 <= int(row["minutes"]) <= 360
        assert row["left off"]
        if row["part"] in PROGRESS and is_made(row["part"]):
            assert int(row["days ago"]) >= int(PROGRESS[row["part"]]["days ago"]), row["part"]


def test_waits_when_followed_then_46_held_up_by_eleven_as_the_stores_list_has_them():
    assert {casting: len(parts) for casting, parts in WAITING.holds.items()} == {
        "K-005": 1, "K-009": 3, "K-012": 3, "K-022": 19, "K-024": 12, "K-033": 1,
        "K-036": 3, "K-038": 6, "K-047": 2, "K-058": 3, "K-061": 5,
    }  # fmt: skip
    assert WAITING.holds["K-024"] < WAITING.holds["K-022"]
    assert {casting: len(parts) for casting, parts in WAITING.alone.items()}["K-022"] == 7
    assert len(set().union(*WAITING.holds.values())) == 46
    assert len(WAITS) == 57
    assert [part for part, row in PROGRESS.items() if "casting" in row["waits for"]] == []


def test_orders_when_reckoned_then_owed_and_promised_as_the_stores_list_has_them():
    owed = {line: count for line, count in WAITING.owed.items() if count}
    assert owed == {
        ("O-016", "K-033"): 1, ("O-017", "K-022"): 1, ("O-017", "K-024"): 1, ("O-019", "K-005"): 3,
        ("O-019", "K-009"): 1, ("O-019", "K-012"): 1, ("O-019", "K-036"): 2, ("O-019", "K-047"): 2,
        ("O-020", "K-038"): 1,
    }  # fmt: skip
    days = {order: WAITING.promised[order, casting] for order, casting in owed}
    assert days == {"O-016": None, "O-017": -143, "O-019": 1, "O-020": 29}
    ordered = {row["casting"] for row in rows("stores") if row["what"] == "ordered"}
    assert {use["casting number"] for use in PARTS.values()} - ordered == {"", "K-058", "K-061"}
