"""The list of parts: narrowed, looked through, sorted, page by page, and the list alone for htmx.

That 1 3/16 in is 30.1625 mm rests on the inch of 25.4 mm exactly (BS 350:2004, from memory); the order of
`1 3/16`, `30 mm` and `0.1875"` follows from it.
"""

from datetime import date

import pytest
from django.urls import reverse

from buildlog.actions.parts import bin_part
from tests.factories import make_assembly, make_build, make_part
from tests.pages import entries, keys, line_of, links, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def look(site, build):
    """Look at the list as it is asked for."""

    def at(query=None, **headers):
        return site.get(reverse("part_list", args=[build.pk]), query or {}, headers=headers)

    return at


@pytest.fixture
def engine(build):
    """Some parts that differ in everything the list is narrowed by."""
    shafts = make_assembly(build, code="S", name="Shafts", balloon="7")
    second = make_assembly(build, code="S2", name="Second shaft", balloon="7.1", parent=shafts)
    axle = make_assembly(build, code="FW", name="Front axle", balloon="3")
    make_part(
        number="S-1", name="Crankshaft", assembly=shafts, stage="machined", material="steel", kind="bought"
    )
    make_part(
        number="S-2",
        name="Wheel 57 T",
        assembly=second,
        stage="in hand",
        material="cast iron",
        kind="casting",
    )
    make_part(
        number="S-10", name="Collar", assembly=second, stage="fitted", material="steel", waits_for="paint"
    )
    make_part(number="FW-3", name="Spoke", assembly=axle, stage="painted", material="Steel", good=1)
    make_part(number="FW-4", name="Rim", assembly=axle, waits_for="plate", waits_since=date(2026, 1, 5))
    make_part(
        number="FW-5", name="Hub", stage="on the engine", build=build, kind="casting", material="gunmetal"
    )
    bin_part(make_part(number="FW-9", name="Old hub", assembly=axle), by=None)
    make_part(make_build(), number="X-1", name="Another engine's wheel")
    return {"S": shafts, "S2": second, "FW": axle}


# ---- narrowed --------------------------------------------------------------------------------------------


def test_list_when_nothing_is_asked_then_every_part_but_the_bins_by_its_number(look, engine):
    page = look()
    assert keys(page) == ["FW-3", "FW-4", "FW-5", "S-1", "S-2", "S-10"]
    assert "6 part records in this build" in words(page)
    assert "1 in the bin" in words(page)


@pytest.mark.parametrize(("code", "found"), [("S", ["S-1", "S-2", "S-10"]), ("S2", ["S-2", "S-10"])])
def test_list_when_an_assembly_is_asked_for_then_its_whole_branch(look, engine, code, found):
    assert keys(look({"assembly": engine[code].pk})) == found


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ({"stage": "in hand"}, ["S-2"]),
        ({"stage": "not started"}, ["FW-4"]),
        ({"stage": "made"}, ["FW-3", "FW-5", "S-1", "S-10"]),
        ({"kind": "casting"}, ["FW-5", "S-2"]),
        ({"kind": "from stock"}, ["FW-3", "FW-4", "S-10"]),
        ({"material": "steel"}, ["S-1", "S-10"]),
        ({"material": "gunmetal"}, ["FW-5"]),
        ({"waiting": "yes"}, ["FW-4"]),  # a made part waits for nothing
        ({"waiting": "no"}, ["FW-3", "FW-5", "S-1", "S-2", "S-10"]),
        ({"stage": "made", "material": "steel"}, ["S-1", "S-10"]),
        ({"stage": "in hand", "kind": "bought"}, []),
    ],
)
def test_list_when_narrowed_then_those_alone(look, engine, query, found):
    page = look(query)
    assert keys(page) == found
    assert "6 part records in this build" in words(page)
    assert (f"{len(found)} part" if found else "No part is like that") in words(page)


def test_list_when_narrowed_then_what_was_asked_stands_in_the_entries(look, engine):
    asked = {
        "find": "wheel",
        "assembly": str(engine["S"].pk),
        "stage": "in hand",
        "kind": "casting",
        "material": "cast iron",
        "waiting": "no",
        "sort": "name",
        "down": "on",
    }
    page = look(asked)
    assert keys(page) == ["S-2"]
    assert {name: entries(page).get(name) for name in asked} == asked


def test_list_then_only_materials_of_this_build_are_offered(look, engine, build):
    make_part(make_build(), material="unobtainable")
    page = words(look())
    assert "cast iron" in page
    assert "unobtainable" not in page


# ---- found -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["57T", "57 T", "57-tooth", "57 teeth", "57t", "wheel 57T", "57T WHEEL"])
def test_find_when_teeth_are_written_in_any_way_then_found(look, engine, typed):
    assert keys(look({"find": typed})) == ["S-2"]


@pytest.fixture
def sizes(build):
    """One size typed in each unit, and others beside it."""
    for number, typed in enumerate(
        (
            "30.1625 mm bore",
            "1 3/16 in dia",
            "30 mm dia",
            '0.1875" dia',
            "1.1875 in",
            "1/3 in",
            "36 T, 8 DP",
            "",
        ),
        1,
    ):
        make_part(build, number=f"A-{number}", name="Bush", leading_size=typed)


@pytest.mark.parametrize("typed", ["1 3/16", "1.3/16 in", "1-3/16", "1.1875", "30.1625 mm", "1187.5 thou"])
def test_find_when_a_size_is_typed_then_parts_of_that_size_in_whatever_unit(look, sizes, typed):
    assert set(keys(look({"find": typed}))) >= {"A-1", "A-2", "A-5"}


def test_find_when_a_size_is_typed_then_no_other_size(look, sizes):
    assert keys(look({"find": "30.1625 mm"})) == ["A-1", "A-2", "A-5"]
    assert keys(look({"find": "3/16 of"})) == []
    assert keys(look({"find": "0.1875 in"})) == ["A-4"]


def test_find_when_the_build_is_metric_then_a_bare_number_is_read_in_millimetres(cast):
    metric = make_build(cast.owner, units="mm")
    make_part(metric, number="A-1", leading_size="30")
    make_part(metric, number="A-2", leading_size="30 in")
    address = reverse("part_list", args=[metric.pk])
    assert keys(cast.client("owner").get(address, {"find": "30.0"})) == ["A-1"]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("crank", ["S-1"]),
        ("CRANK", ["S-1"]),
        ("s-10", ["S-10"]),
        ("collar s-", ["S-10"]),
        ("hub", ["FW-5"]),
        ("%", []),
        ("_", []),
        ("'; drop table", []),
        ("9**9**9", []),
        ("0,5 mm", []),
        ("\u202ehub", []),
        ("🔧", []),
    ],
)
def test_find_when_words_are_typed_then_every_one_of_them_is_looked_for(look, engine, typed, found):
    assert keys(look({"find": typed})) == found


def test_find_when_casting_number_note_or_hand_are_typed_then_found(look, build):
    make_part(build, number="H-021", hand="L", casting_number="K-040", notes="Keep the chill.")
    for typed in ("k-040", "chill", "H-021-L"):
        assert keys(look({"find": typed})) == ["H-021-L"], typed


def test_find_when_letters_are_not_english_then_found_in_large_and_small(look, build):
    make_part(build, number="A-1", name="Überhitzer Straße")
    for typed in ("überhitzer", "ÜBERHITZER", "strasse"):
        assert keys(look({"find": typed})) == ["A-1"], typed


def test_find_when_nothing_is_like_that_then_said_with_a_way_back(look, build, engine):
    page = look({"find": "unobtainable"})
    assert "No part is like that" in words(page)
    assert reverse("part_list", args=[build.pk]) in links(page)
    assert entries(page)["find"] == "unobtainable"


# ---- sorted ----------------------------------------------------------------------------------------------


def test_sizes_when_sorted_then_by_true_size_and_those_without_come_last(look, sizes):
    # 3/16 in < 1/3 in < 30 mm < 30.1625 mm = 1 3/16 in = 1.1875 in; teeth and nothing are no size.
    assert keys(look({"sort": "size"})) == ["A-4", "A-6", "A-3", "A-1", "A-2", "A-5", "A-7", "A-8"]
    assert keys(look({"sort": "size", "down": "on"})) == [
        "A-1",
        "A-2",
        "A-5",
        "A-3",
        "A-6",
        "A-4",
        "A-7",
        "A-8",
    ]


def test_size_when_typed_in_millimetres_then_inches_stand_beside_it_as_converted(look, sizes):
    # 30 / 25.4 = 1.18110...
    line = line_of(look(), "A-3")
    assert "30mm dia" in line.replace("30 mm", "30mm")
    assert "1.1811 in" in line
    assert line.index("mm dia") < line.index("1.1811 in")


def test_sizes_when_one_ten_thousandth_of_an_inch_apart_then_still_in_order(look, build):
    for number, typed in enumerate(("1.0002 in", "1.0001 in", "25.4 mm", "25.4001 mm"), 1):
        make_part(build, number=f"A-{number}", leading_size=typed)
    assert keys(look({"sort": "size"})) == ["A-3", "A-4", "A-2", "A-1"]


@pytest.mark.parametrize(
    ("sort", "found"),
    [
        ("number", ["FW-3", "FW-4", "FW-5", "S-1", "S-2", "S-10"]),
        ("name", ["S-10", "S-1", "FW-5", "FW-4", "FW-3", "S-2"]),
        ("stage", ["FW-4", "S-2", "S-1", "S-10", "FW-3", "FW-5"]),
        ("made", ["FW-3", "FW-5", "FW-4", "S-1", "S-2", "S-10"]),
        ("waiting", ["FW-4", "FW-3", "FW-5", "S-1", "S-2", "S-10"]),
    ],
)
def test_list_when_sorted_then_in_that_order(look, engine, sort, found):
    assert keys(look({"sort": sort})) == found


def test_list_when_sorted_then_the_heading_says_so_and_leads_the_other_way(look, engine):
    page = look({"stage": "made", "sort": "name"})
    assert 'aria-sort="ascending"' in page.content.decode()
    assert "?stage=made&sort=name&down=on" in links(page)
    assert "?stage=made&sort=size" in links(page)
    assert 'aria-sort="descending"' in look({"sort": "name", "down": "on"}).content.decode()


# ---- nonsense --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "query",
    [
        {"assembly": "9" * 40},
        {"assembly": "engine"},
        {"stage": "finished"},
        {"kind": "\u202egnitsac"},
        {"material": "unobtainable"},
        {"waiting": "perhaps"},
        {"sort": "password"},
        {"sort": "size_nm) --"},
        {"down": "sideways", "sort": "number"},
        {"page": "-1"},
        {"page": "0"},
        {"page": "nought"},
        {"page": "9" * 400},
        {"find": "x" * 61},
        {"find": "a\x00b"},
        {"unknown": "1"},
    ],
)
def test_list_when_what_is_asked_makes_no_sense_then_the_list_as_if_it_were_not_asked(look, engine, query):
    page = look(query)
    assert page.status_code == 200
    assert len(keys(page)) == 6


def test_list_when_the_assembly_is_of_another_build_then_not_narrowed_by_it(look, engine):
    foreign = make_assembly(code="X")
    assert len(keys(look({"assembly": foreign.pk}))) == 6


# ---- pages -----------------------------------------------------------------------------------------------


@pytest.fixture
def many(build):
    for number in range(1, 251):
        make_part(build, number=f"A-{number}", name=f"Bush {number}")


def test_pages_when_there_are_more_than_a_hundred_then_each_leads_to_the_next(look, many):
    first = look({"find": "bush"})
    assert keys(first) == [f"A-{number}" for number in range(1, 101)]
    assert "1 to 100; page 1 of 3" in words(first)
    assert "?find=bush&page=2" in links(first)
    last = look({"find": "bush", "page": 3})
    assert keys(last) == [f"A-{number}" for number in range(201, 251)]
    assert "?find=bush&page=2" in links(last)


def test_pages_when_out_of_range_then_the_last_one(look, many):
    assert keys(look({"page": 99})) == [f"A-{number}" for number in range(201, 251)]


def test_twins_when_a_page_ends_between_them_then_each_is_there_once(look, build):
    for number in range(1, 51):
        for hand in "LR":
            make_part(build, number=f"A-{number}", hand=hand)
    make_part(build, number="A-0")
    found = keys(look()) + keys(look({"page": 2}))
    assert len(found) == len(set(found)) == 101


# ---- htmx ------------------------------------------------------------------------------------------------


def test_list_when_htmx_asks_then_the_list_alone_and_vary_says_so(look, engine):
    whole, alone = look({"find": "hub"}), look({"find": "hub"}, HX_Request="true")
    assert keys(whole) == keys(alone) == ["FW-5"]
    assert "<html" in whole.content.decode()
    assert "<html" not in alone.content.decode()
    assert "Tooling" not in words(alone)
    for answer in (whole, alone):
        assert "HX-Request" in answer["Vary"]


def test_list_when_htmx_brings_a_page_back_then_the_whole_of_it(look, engine):
    answer = look({"find": "hub"}, HX_Request="true", HX_History_Restore_Request="true")
    assert "<html" in answer.content.decode()


# ---- empty -----------------------------------------------------------------------------------------------


def test_list_when_there_are_no_parts_then_it_says_how_to_begin(look, build):
    page = look()
    assert "No parts in this build yet" in words(page)
    for name in ("list_in", "part_new"):
        assert reverse(name, args=[build.pk]) in links(page)
    assert reverse("list_sample") in links(page)


def test_list_when_all_parts_are_in_the_bin_then_it_says_that_too(look, build):
    bin_part(make_part(build), by=None)
    assert "1 in the bin" in words(look())


def test_hostile_words_when_found_or_shown_then_never_markup(look, build):
    make_part(build, number="A-1", name="<img src=x onerror=1>", waits_for="<b>bar")
    page = look({"find": '"><script>'})
    assert "<script>" not in page.content.decode().split("<main")[1]
    assert "<img" not in look().content.decode()
