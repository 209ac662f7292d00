"""Threads by their names: drills and how each is known, look-alikes of a set, names found in words.

The pairs are those of the kernel's list: 1/4 BSF goes on M6 loosely and 5/16 UNC binds in M8, as builders
wrote; the figures beside them follow from the sizes themselves (BS 84: 1/4 in, 26 to the inch; ISO 724: M6
of 1 mm).
"""

import pytest

from calc.kernel.threads import threads
from calc.measures import EntryError
from calc.threads_named import LONGEST_NAME, found_in, named, near_among, shown


def test_thread_when_named_then_its_drills_and_how_each_is_known():
    bsf, metric = named("1/4-26 BSF"), named("M6")
    assert (bsf.name, bsf.over, bsf.pitch) == ("1/4 BSF", "0.2500 in", "26 to the inch")
    assert (metric.shown, metric.over, metric.pitch) == ("M6 × 1", "6 mm", "1 mm")
    # ISO 2306 gives 5.0 mm for M6: 100 (6 - 5) / 1.082532 = 92.4 per cent of the full thread.
    assert (metric.tapping.words, metric.tapping.leaves) == ("5 mm", "92.4 %")
    # ISO 273, fine series, and ISO 272, both from memory, and said to be so.
    assert [(one.words, one.known) for one in (metric.clearance, metric.spanner)] == [
        ("6.4 mm", "from memory"),
        ("10 mm", "from memory"),
    ]


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        # 6.35 and 6 mm: 0.35 / 6.35 = 5.5 per cent.
        ("1/4 BSF", "M6x1", "5.5 % smaller"),
        ("M6x1", "1/4 BSF", "5.5 % larger"),
        # 5/16 in is 7.9375 mm, M8 is 8: 0.0625 / 8 = 0.8 per cent.
        ("5/16-18 UNC", "M8x1.25", "0.8 % larger"),
    ],
)
def test_pair_when_both_are_used_then_each_is_told_of_the_other(one, other, told):
    near = near_among([one, other, "7/16 BSF"])
    assert set(near) == {one, other}
    (found,) = near[one]
    assert found.name == other
    assert told in found.words
    assert not near_among([one])


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Stud 1/4 BSF, cylinder to boiler", ["1/4 BSF"]),
        ("Strap bolt 2 BA, not 1 BA", ["2 BA", "1 BA"]),
        ("tap M6 x 1 through", ["M6x1"]),
        ("M6 × 20 screws", ["M6x1"]),
        ("M6x25", ["M6x1"]),
        ("M6 x 4 mm long", ["M6x1"]),
        ("M6 x 1 in long", ["M6x1"]),
        ("M6 x 0.75 mm pitch", ["M6x0.75"]),
        ("M10 x 1.25. Then M6 fine", ["M10x1.25", "M6x0.75"]),
        ("tapped 1/4 x 40 ME", ["1/4x40 ME"]),
        ("5/16 B.S.F. hexagon", ["5/16 BSF"]),
        ("1.1/8 BSF", ["1 1/8 BSF"]),
        ("1 1/8 BSW", ["1 1/8 BSW"]),
        ("G 1/4 and G1/8", ["1/4 BSP", "1/8 BSP"]),
        ("1 1/4 in long, 0.445 in A/F", []),
        ("No. 6 wood screw, T-012, K-058, sheet 31 B", []),
        ("give 2 to me", []),
        ("M6, then M6 again", ["M6x1"]),
    ],
)
def test_words_when_they_name_threads_then_those_and_nothing_else(text, names):
    assert [one.name for one in found_in(text) if one.name] == names


def test_words_when_a_name_has_two_readings_then_found_with_what_it_may_mean():
    (found,) = found_in("Gland nut 1/4 ME")
    assert (found.as_written, found.name) == ("1/4 ME", "")
    assert "1/4x40 ME" in found.refused


def test_every_thread_of_the_tables_when_named_then_found_in_words_by_its_name_and_as_shown():
    for one in threads():
        assert len(one.name) <= LONGEST_NAME
        assert named(one.name).name == named(shown(one.name)).name == one.name
        assert [found.name for found in found_in(f"stud {one.name}, both ends")] == [one.name]
        assert [found.name for found in found_in(f"tapped {shown(one.name)}.")] == [one.name]


def test_name_when_of_no_table_then_refused_with_what_is_meant():
    with pytest.raises(EntryError, match="26 threads to the inch"):
        named("1/4x20 BSF")


def test_drills_when_there_is_one_then_never_below_the_core_by_the_words_shown():
    for one in threads():
        known = named(one.name)
        assert float(known.tapping.leaves.removesuffix(" %")) <= 100, one.name
        assert known.tapping.known
