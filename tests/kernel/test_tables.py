"""Sources and their tables: what a folder must hold, digests, look-ups and refusals."""

from fractions import Fraction

import pytest

from calc.kernel import tables
from calc.kernel.errors import NotInTable
from tests.oracles import SET_B

RANGES = "# sizes in inches\nover,to,key\n0,1/4,small\n1/4,1/2,middle\n1/2,0.75,large\n"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "made_up").mkdir()
    (tmp_path / "made_up" / "keys.csv").write_text(RANGES, encoding="utf-8")
    (tmp_path / "made_up" / "source.toml").write_text(
        "\n".join(f'{name} = "made_up"' for name in tables.REQUIRED), encoding="utf-8"
    )
    return tmp_path


@pytest.mark.parametrize("key", tables.source_keys())
def test_source_when_read_then_it_says_what_it_is_and_how_it_was_read(key):
    source = tables.read_source(key)
    assert source.key == key
    assert len(source.how_read) > 30
    assert "http" not in str(source)
    assert set(tables.cite(key)) == {"key", "title", "edition", "digest"}


def test_sources_when_counted_then_every_folder_is_one():
    folders = {path.name for path in tables.SOURCES.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert set(tables.source_keys()) == folders
    assert len(folders) >= 6


def test_index_plate_when_read_then_it_is_the_plate_of_the_figure_and_no_circle_is_twice():
    table = tables.read_table("od1644", "index_plate")
    faces = {face: [int(row["holes"]) for row in table.rows if row["face"] == face] for face in ("1", "2")}
    assert (tuple(faces["1"]), tuple(faces["2"])) == SET_B
    assert all(face == sorted(set(face)) for face in faces.values())


@pytest.mark.parametrize(
    ("value", "key"), [(Fraction(1, 4), "small"), (Fraction(1001, 4000), "middle"), (Fraction(3, 4), "large")]
)
def test_row_when_looked_up_then_ranges_are_over_to_up_to_and_exact(folder, value, key):
    table = tables.read_table("made_up", "keys", folder)
    assert table.row_for("shaft", value, over="over", to="to")["key"] == key


@pytest.mark.parametrize("value", [Fraction(0), Fraction(-1), Fraction(751, 1000)])
def test_row_when_outside_the_table_then_it_is_refused_by_name(folder, value):
    table = tables.read_table("made_up", "keys", folder)
    with pytest.raises(NotInTable) as refused:
        table.row_for("shaft", value, over="over", to="to")
    assert refused.value.field == "shaft"
    assert "0 to 0.75" in refused.value.message


def test_digest_when_a_cell_changes_then_it_changes(folder):
    before = tables.digest("made_up", folder)
    tables.digest.cache_clear()
    (folder / "made_up" / "keys.csv").write_text(RANGES.replace("1/4", "1/5"), encoding="utf-8")
    assert tables.digest("made_up", folder) != before


def test_table_when_a_row_is_short_then_it_is_refused(folder):
    (folder / "made_up" / "short.csv").write_text("over,to,key\n0,1\n", encoding="utf-8")
    with pytest.raises(ValueError, match="short"):
        tables.read_table("made_up", "short", folder)


def test_source_when_a_line_is_missing_then_it_is_refused(folder):
    (folder / "made_up" / "source.toml").write_text('key = "made_up"\n', encoding="utf-8")
    with pytest.raises(ValueError, match="title"):
        tables.read_source("made_up", folder)


def test_checks_when_a_source_prints_none_then_there_are_none(folder):
    assert tables.read_checks("made_up", folder) == ()
