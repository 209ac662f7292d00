"""The calculate command: list, inputs, answers, and the two ways to have none; without a database."""

import json
import os
import re
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command

ROOT = Path(__file__).resolve().parents[2]
SET_A = "15,16,17,18,19,20/21,23,27,29,31,33/37,39,41,43,47,49"


def run(*args):
    """What it wrote on standard output and standard error, and what it ended with."""
    out, error, code = StringIO(), StringIO(), 0
    try:
        call_command("calculate", *args, stdout=out, stderr=error)
    except SystemExit as end:
        code = end.code
    return out.getvalue(), error.getvalue(), code


def test_command_when_alone_then_every_calculation_has_one_line():
    out, _, code = run()
    lines = out.strip().splitlines()
    assert code == 0
    assert [line.split()[0] for line in lines] == [
        "indexing",
        "indexing-schedule",
        "spur-gear",
        "helical-gear",
        "milling-lead",
        "bevel-pair",
        "bevel-cutting",
        "bevel-differential",
        "worm-pair",
        "keyway",
        "broaching",
        "key-strength",
        "fit",
        "inch-fit",
        "shop-fit",
        "press-fit",
        "thread",
        "tapping-drill",
        "bore-sequence",
        "taper",
        "bolt-circle",
        "spindle-speed",
        "change-wheels",
        "scale",
        "mass",
        "casting-allowance",
    ]


def test_command_when_a_key_is_given_then_name_kind_limits_default_and_choices_are_printed():
    out, _, code = run("indexing")
    assert code == 0
    assert "ratio           a count; 1 to 360; 40 unless entered" in out
    assert "no or yes; no unless entered" in out
    assert "1′ to 360°; may be left out" in out


def test_command_when_worked_out_then_the_answer_the_working_and_the_source_are_there():
    out, error, code = run("indexing", "divisions=84", f"circles={SET_A}")
    assert (code, error) == (0, "")
    assert out.startswith("Indexing, 84 divisions\n10 spaces in the 21 circle\n")
    assert "84 × 10/21 = 40" in out
    assert "ratio / divisions:  40 / 84" in out
    assert "US Army course OD1644" in out


def test_command_when_json_is_asked_then_it_is_one_object_of_the_contract():
    out, _, code = run("indexing", "divisions=57", f"circles={SET_A}", "--json")
    found = json.loads(out)
    assert code == 0
    assert found["calculation"] == "indexing"
    assert found["entered"] == {"divisions": "57", "circles": SET_A}
    assert found["inputs"]["ratio"] == 40
    assert found["results"]["plain"] == []
    assert found["results"]["missing_factor"] == 57
    assert found["warnings"][0]["code"] == "no-plain"


def test_schedule_when_printed_then_every_row_is_there():
    out, _, code = run("indexing-schedule", "divisions=84", "circle=42", "holes=20")
    assert code == 0
    assert "23 34/42" in out
    assert out.count("\n  ") > 84


@pytest.mark.parametrize(
    ("args", "field", "said"),
    [
        (("indexing", "divisions=1", "circles=20"), "divisions", "1 is too small: 2 to 10000"),
        (("indexing", "divisions=8"), "circles", "Nothing is entered"),
        (("indexing", "circles=20"), "divisions", "one of two is wanted"),
        (("indexing", "divisions=8", "angle=45", "circles=20"), "angle", "not both"),
        (("indexing", "divisions=8", "circles=20", "teeth=8"), "teeth", "asks for no “teeth”"),
        (("indexing", "divisions=8", "divisions=9"), "divisions", "entered twice"),
        (("indexing", "divisions=8", "circles=20", "21"), "21", "There is no ="),
        (("indexing-schedule", "divisions=84", "circle=42", "holes=19"), "holes", "20 in 42 would do"),
        (("spanner",), "calculation", "There is no “spanner”"),
    ],
)
def test_command_when_an_entry_is_wrong_then_it_ends_with_2_and_names_it(args, field, said):
    out, error, code = run(*args)
    assert (code, out) == (2, "")
    assert said in error
    out, error, code = run(*args, "--json")
    assert (code, error) == (2, "")
    found = json.loads(out)
    assert list(found) == ["error"]
    assert found["error"]["field"] == field
    assert said in found["error"]["message"]


def test_command_when_there_is_no_solution_then_it_ends_with_3_and_says_what_would_make_one():
    entered = ("indexing", "divisions=9973", f"circles={SET_A}")
    out, error, code = run(*entered)
    assert (code, out) == (3, "")
    assert "Would do: A circle of 9973 holes" in error
    out, _, code = run(*entered, "--json")
    assert code == 3
    assert set(json.loads(out)["no_solution"]) == {"message", "would_do"}


def test_command_when_only_a_nearest_answer_exists_then_it_ends_with_0_and_warns():
    out, _, code = run("indexing", "divisions=53", f"circles={SET_A}", "--json")
    found = json.loads(out)
    assert code == 0
    assert found["results"]["exact"] is False
    assert found["results"]["nearest"]
    assert "nearest-only" in {warning["code"] for warning in found["warnings"]}


def test_command_when_there_is_no_database_then_it_works_all_the_same(tmp_path):
    """As a builder runs it, with a database address that nobody answers and an empty data folder."""
    asked = [sys.executable, "manage.py", "calculate", "indexing", "divisions=1", "circles=20", "--json"]
    nobody = "sqlite:////nowhere/at/all.sqlite3"
    surroundings = os.environ | {
        "DATABASE_URL": nobody,
        "HORNPLATE_DATA": str(tmp_path),
    }
    surroundings["DJANGO_SETTINGS_MODULE"] = "buildlog.settings"
    done = subprocess.run(
        asked, cwd=ROOT, env=surroundings, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 2, done.stderr
    assert json.loads(done.stdout)["error"]["field"] == "divisions"


def test_gear_when_printed_then_the_mate_has_its_own_list_of_results():
    out, error, code = run("spur-gear", "teeth=84", "diametral_pitch=6 DP", "mate_teeth=18")
    assert (code, error) == (0, "")
    mate = out[out.index("\nMate\n") : out.index("\nWorking\n")]
    # 18 teeth of 6 DP: 18/6 = 3 in = 76.2 mm pitch diameter, by the definition of diametral pitch.
    assert re.search(r"Pitch diameter mm +76\.2\n", mate)
    assert "{" not in out


@pytest.mark.parametrize("unit", ["inch", "mm"])
def test_gear_when_bare_then_its_pitch_is_to_the_inch_and_its_module_in_millimetres(unit):
    # Pitch diameters by definition: 84 teeth / 8 DP = 10.5 in = 266.7 mm; 84 teeth x module 2 = 168 mm.
    for entry, pitch_diameter in (("diametral_pitch=8", 266.7), ("module=2", 168)):
        out, _, code = run("spur-gear", "teeth=84", entry, "--unit", unit, "--json")
        assert code == 0
        assert json.loads(out)["results"]["pitch_diameter_mm"] == pytest.approx(pitch_diameter, abs=1e-9)
