"""The files of the demo build agree with themselves: counts, twins, needs, gears, spreadsheet cells.

The demo is invented; what is checked against something outside it is the arithmetic of spur gears
(outside diameter (N + 2)/P, centres (N + n)/2P: US Navy, Machinery Repairman, NAVEDTRA 14345,
App. III and IV) and the ranges of inch form cutters (see RANGES).
"""

import csv
import re
from collections import Counter, defaultdict
from fractions import Fraction

import pytest

from tests.buildlog.demo_rows import (
    ASSEMBLIES,
    FOLDER,
    MADE,
    NEEDED,
    PARTS,
    PROGRESS,
    USES,
    key,
    rows,
    state,
    top,
)

COLUMNS = {
    "parts": "number,hand,name,assembly,quantity,kind,material,leading size,sheet,casting number,notes",
    "assemblies": "code,name,balloon,parent",
    "progress": "number,hand,stage,good,scrap,days ago,lesson,waits for,waiting days",
    "heads": "name,ratio,direct plate,change gears,usual,note",
    "plates": "head,plate,first face,second face",
    "cutters": "pitch,pressure angle,number,numbering,from teeth,to teeth,depth marked,note",
    "castings": "casting,name,note",
    "needs": "part,needs,of,quantity,days ago",
    "mates": "part,mate",
    "suppliers": "name,note",
    "orders": "order,supplier,days ago,note",
    "stores": "days ago,what,order,casting,quantity,price,promised after,part,words",
    "drawings": "sheet,title,place,note,units,projection,issue,dated days ago,got days ago,changed",
    "sheet_lines": "sheet,what,points,sizes,text",
    "log": "days ago,minutes,kind of time,part,done,left off,next,links",
    "errata": "erratum,sheet,issue,where,as printed,should be,source,days ago,not affected,across,down",
    "sums": "part,calculation,entries,days ago",
    "characteristics": "part,characteristic,size,over,under,place",
    "readings": "part,characteristic,reading,measured with,days ago,note",
    "scrap": "part,days ago,how many,what became,cause,what happened,minutes lost,lesson,show on,operation",
    "threads": "part,thread,where,count,side",
    "concessions": "concession,part,characteristic,days ago,decision,decided days ago,words,mates",
}
FILES = tuple(COLUMNS)
#: made, in hand, waiting and all parts of each assembly, as the general arrangement's key has them.
KEY = {
    "B": (21, 3, 6, 38),
    "SB": (18, 1, 3, 29),
    "FW": (41, 0, 0, 41),
    "CY": (9, 2, 19, 52),
    "V": (14, 4, 9, 58),
    "H": (39, 2, 1, 47),
    "S": (23, 4, 6, 49),
    "HW": (32, 3, 2, 44),
    "T": (8, 0, 11, 62),
}
SIZE = re.compile(
    r"(\d+(?: \d+/\d+|\.\d+/\d+|\.\d+|/\d+)?) (in|mm) (dia|bore|OD|ID|long|wide|thick|square|A/F|reg\.|rad)"
)
TEETH = re.compile(r"(\d+) T(?:, (\d+) DP)?\b")


def inches(text):
    """A size as typed, in inches: 1 1/4, 1.1/4, 5/8 or 7.375."""
    whole, _, part = re.sub(r"\.(?=\d+/)", " ", text).rpartition(" ")
    return (Fraction(whole) if whole else 0) + Fraction(part)


# --- the files themselves


@pytest.mark.parametrize("name", FILES)
def test_file_when_read_then_utf8_with_its_columns_and_no_ragged_row(name):
    text = (FOLDER / f"{name}.csv").read_bytes().decode("utf-8")
    lines = list(csv.reader(text.splitlines(), strict=True))
    assert ",".join(lines[0]) == COLUMNS[name]
    assert {len(line) for line in lines} == {len(lines[0])}
    assert all(cell == cell.strip() and "  " not in cell for line in lines for cell in line)


def test_readme_when_read_then_names_every_file_and_every_column():
    said = " ".join((FOLDER / "README.md").read_text(encoding="utf-8").split())
    assert sorted(path.stem for path in FOLDER.glob("*.csv")) == sorted(FILES)
    for name, columns in COLUMNS.items():
        assert f"{name}.csv" in said
        assert [column for column in columns.split(",") if f"`{column}`" not in said] == []


@pytest.mark.parametrize("name", FILES)
def test_cells_when_opened_in_a_spreadsheet_then_none_becomes_a_formula_a_date_or_a_time(name):
    """A leading sign is a formula; 3/16 or 5 May a date; 12 A a time of day (common practice, no source)."""
    spoiled = re.compile(
        r"[=+@\-\t\r].*"
        r"|\d{1,4}[/-]\d{1,4}([/-]\d{1,4})?"
        r"|(\d+[ -])?(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*([ -]\d+)?"
        r"|\d{1,2}(:\d\d)? ?[ap]m?"
        r"|\d+[ed]\d+",
        re.I,
    )
    cells = [cell for row in rows(name) for cell in row.values()]
    assert [cell for cell in cells if spoiled.fullmatch(cell)] == []
    for cell in ("3/16", "-3", "=A1", "12 A", "1-2", "5 May", "1E5"):
        assert spoiled.fullmatch(cell), f"the check itself lets {cell} through"


def test_words_when_read_then_no_proper_names():
    """Past the first word a capital stands only in a trade sign, a key or a unit: not a person or firm."""
    sign = re.compile(
        r"T|DP|BA|BSF|PCD|OD|ID|No|E\d|[BVHST]-\d+(-[LR])?|(FW|SB|CY|HW|ST)-\d+(-[LR])?|[CFK]-\d+|H1|L|R"
    )
    texts = [use[column] for use in USES for column in ("name", "material", "notes")]
    texts += [row[column] for row in PROGRESS.values() for column in ("lesson", "waits for")]
    texts += [row["note"] for name in ("heads", "cutters", "castings", "orders") for row in rows(name)]
    texts += [row["name"] for row in rows("castings")] + [row["words"] for row in rows("stores")]
    texts += [row[column] for row in rows("drawings") for column in ("title", "place", "note", "changed")]
    texts += [row[column] for row in rows("log") for column in ("done", "left off", "next")]
    capitals = re.compile(r"(?<!^)\b[A-Z][\w-]*")
    words = {word for text in texts for word in capitals.findall(text)}
    assert {word for word in words if not sign.fullmatch(word)} == set()
    # The two foundries are invented, as everything here is.
    assert [row["name"] for row in rows("suppliers")] == ["Thrupwell Foundry", "Dunmarrow Bronze"]


def test_boiler_when_read_then_no_pressure_no_plate_thickness_no_claim():
    said = " ".join(
        [" ".join(use.values()) for use in USES] + [" ".join(row.values()) for row in PROGRESS.values()]
    ).lower()
    claims = r"\b(psi|bar pressure|lb per|approved|is safe|safe to|certified (?!drawing)\w+)"
    assert re.findall(claims, said) == []
    assert [key(use) for use in USES if top(use["assembly"]) == "B" and "thick" in use["leading size"]] == []


# --- counts and the tree


def test_parts_when_counted_then_420_with_each_assembly_its_share():
    assert len(PARTS) == 420
    at_home = Counter(top(use["assembly"]) for use in PARTS.values())
    assert at_home == {code: figures[3] for code, figures in KEY.items()}


def test_assemblies_when_read_then_nine_with_balloons_and_the_rest_under_them():
    nine = {code: row for code, row in ASSEMBLIES.items() if not row["parent"]}
    assert [row["balloon"] for row in nine.values()] == list("123456789")
    for row in ASSEMBLIES.values():
        if row["parent"]:
            assert row["balloon"].startswith(ASSEMBLIES[row["parent"]]["balloon"] + ".")
    assert len({row["balloon"] for row in ASSEMBLIES.values()}) == len(ASSEMBLIES)
    assert {use["assembly"] for use in USES} == set(ASSEMBLIES)


def test_uses_when_listed_then_each_once_and_alike_but_for_assembly_and_quantity():
    assert len({(key(use), use["assembly"]) for use in USES}) == len(USES)
    for use in USES:
        home = PARTS[key(use)]
        assert {**use, "assembly": "", "quantity": ""} == {**home, "assembly": "", "quantity": ""}


def test_quantities_when_read_then_whole_and_more_than_nought():
    assert [key(use) for use in USES if not re.fullmatch(r"[1-9]\d*", use["quantity"])] == []


def test_twins_when_one_hand_is_listed_then_the_other_is_too():
    hands = defaultdict(set)
    for use in PARTS.values():
        hands[use["number"]].add(use["hand"])
    assert {number: found for number, found in hands.items() if found not in ({""}, {"L", "R"})} == {}
    for number in (number for number, found in hands.items() if found == {"L", "R"}):
        left, right = PARTS[f"{number}-L"], PARTS[f"{number}-R"]
        for column in ("name", "assembly", "quantity", "kind", "material", "sheet", "casting number"):
            assert left[column] == right[column], number


def test_numbers_when_read_then_letters_of_the_home_assembly_and_three_figures():
    for use in PARTS.values():
        match = re.fullmatch(r"([A-Z]+)-\d{3}", use["number"])
        assert match, use["number"]
        assert match[1] in {"ST", "BT", "NU", "SC", "RV", top(use["assembly"])}


def test_names_when_compared_then_no_two_parts_of_an_assembly_share_one():
    names = Counter((use["assembly"], use["name"], use["hand"]) for use in USES)
    assert [name for name, count in names.items() if count > 1] == []
    assert [use["name"] for use in PARTS.values() if re.search(r"\bpart\b|\bitem\b", use["name"], re.I)] == []


def test_sheets_when_counted_then_31_each_at_one_issue():
    issues = defaultdict(set)
    for use in USES:
        match = re.fullmatch(r"(\d+) ([B-OQ-Z])", use["sheet"])
        assert match, use["sheet"]
        issues[int(match[1])].add(match[2])
    assert sorted(issues) == list(range(1, 32))
    assert {sheet: found for sheet, found in issues.items() if len(found) > 1} == {}


def test_castings_when_counted_then_74_and_every_cast_part_has_one():
    assert [key(use) for use in USES if (use["kind"] == "casting") != bool(use["casting number"])] == []
    numbers = {use["casting number"] for use in USES} - {""}
    assert sorted(numbers) == [f"K-{n:03d}" for n in range(1, 75)]
    assert {use["kind"] for use in USES} == {"casting", "from stock", "bought", "made up"}
    metals = defaultdict(set)
    for use in PARTS.values():
        metals[use["casting number"]].add(use["material"])
    assert {number: found for number, found in metals.items() if number and len(found) > 1} == {}


def test_sizes_when_typed_then_a_figure_a_unit_and_what_it_is_of():
    wrong = []
    for use in PARTS.values():
        match = SIZE.fullmatch(use["leading size"])
        if not (match and inches(match[1]) > 0) and not TEETH.fullmatch(use["leading size"]):
            wrong.append((key(use), use["leading size"]))
    assert wrong == []


@pytest.mark.parametrize(
    ("number", "needed", "assemblies"),
    [
        ("ST-012", 24, {"CYC": 8, "STC": 10, "PMP": 6}),
        ("ST-013", 8, {"CY": 8}),
        ("NU-021", 21, {"CY": 21}),
        ("FW-004", 24, {"FW": 24}),
        ("HW-005", 32, {"HW": 32}),
    ],
)
def test_need_when_uses_are_added_up_then_as_the_story_has_it(number, needed, assemblies):
    found = {use["assembly"]: int(use["quantity"]) for use in USES if key(use) == number}
    assert found == assemblies
    assert NEEDED[number] == needed


# --- what is done and what waits


def test_progress_when_counted_then_each_assembly_as_the_key_to_the_balloons():
    counts = Counter((top(use["assembly"]), state(part)) for part, use in PARTS.items())
    for code, (made, in_hand, waiting, whole) in KEY.items():
        assert counts[code, "made"] == made, code
        assert counts[code, "in hand"] == in_hand, code
        assert counts[code, "waiting"] == waiting, code
        assert counts[code, "not started"] == whole - made - in_hand - waiting, code
    assert sum(count for (_, which), count in counts.items() if which == "not started") == 139


def test_progress_when_compared_with_the_need_then_stage_and_counts_agree():
    assert len(PROGRESS) == len(rows("progress"))
    for part, row in PROGRESS.items():
        good, scrap, needed = int(row["good"]), int(row["scrap"]), NEEDED[part]
        assert part in PARTS
        assert scrap >= 0
        if row["stage"] in MADE:
            assert good == needed, part
        elif row["stage"] == "in hand":
            assert 0 <= good < needed, part
        else:
            assert (row["stage"], good, scrap) == ("not started", 0, 0), part
            assert row["waits for"], part


def test_front_axle_when_read_then_all_painted_or_on_the_engine():
    stages = {PROGRESS[part]["stage"] for part, use in PARTS.items() if top(use["assembly"]) == "FW"}
    assert stages == {"painted", "on the engine"}
    spokes = PROGRESS["FW-004"]
    assert (spokes["good"], spokes["scrap"]) == ("24", "2")


def test_days_when_read_then_six_years_back_and_the_last_evening_was_s012():
    begun = {part: int(row["days ago"]) for part, row in PROGRESS.items() if row["days ago"]}
    assert {part for part, row in PROGRESS.items() if row["stage"] != "not started"} == set(begun)
    assert [part for part, days in begun.items() if days == min(begun.values())] == ["S-012"]
    assert begun["S-012"] == 254
    assert 5 * 365 < max(begun.values()) <= 6 * 365
    waits = {part: int(row["waiting days"]) for part, row in PROGRESS.items() if row["waiting days"]}
    assert {part for part, row in PROGRESS.items() if row["waits for"]} == set(waits)
    assert min(waits.values()) >= 20


def test_waits_when_another_part_is_named_then_it_is_in_the_list_and_not_made():
    for part, row in PROGRESS.items():
        for named in re.findall(r"\b[A-Z]{1,2}-\d{3}(?:-[LR])?", row["waits for"]):
            if not named.startswith("K-"):
                assert named in PARTS, part
                assert PROGRESS[named]["stage"] in ("not started", "in hand", "machined"), part


def test_notes_when_read_then_on_about_a_quarter_of_the_rows():
    assert 0.2 < sum(1 for use in USES if use["notes"]) / len(USES) < 0.3


# --- gears


def spur(number):
    """Teeth and diametral pitch from a part's name."""
    match = TEETH.search(PARTS[number]["name"])
    return int(match[1]), int(match[2])


def test_gears_when_a_name_gives_teeth_and_pitch_then_the_outside_diameter_follows():
    """(N + 2)/P, to the nearest thousandth."""
    checked = {}
    for part, use in PARTS.items():
        teeth, size = TEETH.search(use["name"]), SIZE.fullmatch(use["leading size"])
        if teeth and teeth[2] and size and size[3] == "OD":
            checked[part] = round(Fraction(int(teeth[1]) + 2, int(teeth[2])), 3)
            assert inches(size[1]) == checked[part], part
    assert sorted(checked) == ["S-011", "S-012", "S-013", "S-014", "S-015", "S-016"]


@pytest.mark.parametrize(
    ("wheel", "pinion", "centres"),
    [("S-011", "S-013", "4.625"), ("S-012", "S-014", "4.625"), ("S-016", "S-015", "8.5")],
)
def test_gears_when_a_pair_meshes_then_its_centres_are_those_of_the_shafts(wheel, pinion, centres):
    (big, pitch), (small, other) = spur(wheel), spur(pinion)
    assert pitch == other
    assert Fraction(big + small, 2 * pitch) == Fraction(centres)


def test_differential_when_three_pinions_are_set_round_then_they_go_together():
    """Pinions equally spaced enter two bevels when their teeth together divide by the pinions (derived)."""
    teeth = int(TEETH.fullmatch(PARTS["S-020"]["leading size"])[1])
    assert NEEDED["S-020"] == 2
    assert 2 * teeth % NEEDED["S-021"] == 0


# --- tooling

#: Practical Treatise on Milling and Milling Machines (1914), p. 149: 1 cuts the rack. Sets numbered
#: the other way: from memory.
RANGES = {
    1: (135, None), 2: (55, 134), 3: (35, 54), 4: (26, 34),
    5: (21, 25), 6: (17, 20), 7: (14, 16), 8: (12, 13),
}  # fmt: skip


def test_cutters_when_read_then_number_and_numbering_give_the_range_marked():
    for row in rows("cutters"):
        number = int(row["number"])
        place = number if row["numbering"] == "1 cuts the rack" else 9 - number
        assert row["numbering"] in ("1 cuts the rack", "1 cuts 12 and 13")
        assert (int(row["from teeth"]), int(row["to teeth"]) if row["to teeth"] else None) == RANGES[place]
        assert re.fullmatch(r"\d+ DP|\d+ mod", row["pitch"])


def test_cutters_when_a_gear_of_the_engine_is_to_be_cut_then_one_is_there_with_its_depth():
    """Depth marked is 2.157/P, to the thousandth or finer (Machinery Repairman, App. IV)."""
    for part in ("S-011", "S-012", "S-013", "S-014", "S-015", "S-016"):
        teeth, pitch = spur(part)
        fit = [
            row
            for row in rows("cutters")
            if (row["pitch"], row["pressure angle"]) == (f"{pitch} DP", "20")
            and int(row["from teeth"]) <= teeth <= int(row["to teeth"])
            and "bevel" not in row["note"]
        ]
        assert len(fit) == 1, part
        assert part in fit[0]["note"]
        marked = Fraction(fit[0]["depth marked"].removesuffix(" in"))
        assert abs(marked - Fraction(2157, 1000 * pitch)) <= Fraction(1, 2000)


def test_plates_when_read_then_circles_rise_and_belong_to_a_head():
    heads = {row["name"]: row for row in rows("heads")}
    assert {name: row["ratio"] for name, row in heads.items()} == {"H1": "40", "R1": "90"}
    assert [name for name, row in heads.items() if row["usual"] == "yes"] == ["H1"]
    circles = defaultdict(list)
    for row in rows("plates"):
        for face in filter(None, (row["first face"], row["second face"])):
            holes = [int(hole) for hole in face.split(", ")]
            assert holes == sorted(set(holes))
            circles[row["head"]].append(holes)
    assert [len(face) for face in circles["H1"]] == [6, 6, 6, 11, 11]
    assert circles["R1"] == circles["H1"][:3]
    assert 57 in circles["H1"][4]
    assert not any(hole % 57 == 0 for face in circles["H1"][:3] for hole in face)


def test_change_gears_when_read_then_the_usual_set_of_twelve():
    """24 (two), 28, 32, 40, 44, 48, 56, 64, 72, 86, 100: common practice, no source."""
    gears = [int(gear) for gear in rows("heads")[0]["change gears"].split(", ")]
    assert gears == [24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100]
