"""README and DEVELOPERS name every command, setting and calculation there is."""

import re

import pytest

from calc import registry
from tests.repo.tree import ROOT, python_files

BOOK = "\n".join((ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md"))
COMMANDS = sorted(
    path.stem
    for room in ("calc", "buildlog")
    for path in (ROOT / room / "management" / "commands").glob("*.py")
    if path.stem != "__init__"
)
#: The helpers of buildlog.environment that read a variable take its name first.
READ = re.compile(r"environment\.read_\w+\(\s*\"([A-Z_]+)\"")
SETTINGS = sorted({name for path in python_files("buildlog") for name in READ.findall(path.read_text())})


def test_lists_when_gathered_then_not_empty():
    assert {"start", "owner"} <= set(COMMANDS)
    assert {"DATABASE_URL", "HORNPLATE_ADDRESS", "HORNPLATE_DATA", "TZ"} <= set(SETTINGS)


@pytest.mark.parametrize("name", ["test", *COMMANDS])
def test_command_when_there_then_in_the_documents(name):
    assert f"manage.py {name}" in BOOK


@pytest.mark.parametrize("name", SETTINGS)
def test_setting_when_there_then_in_the_documents(name):
    assert f"`{name}`" in BOOK


def test_setting_when_in_the_documents_then_there():
    assert set(re.findall(r"`(HORNPLATE_[A-Z_]+)`", BOOK)) <= set(SETTINGS)


@pytest.mark.parametrize("key", sorted(registry.catalogue()))
def test_calculation_when_there_then_in_the_documents(key):
    assert re.search(rf"\b{re.escape(key)}\b", BOOK)


def test_readme_when_it_points_to_a_file_then_that_is_there():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (ROOT / target).exists(), target


@pytest.mark.parametrize("key", sorted(registry.catalogue()))
def test_name_of_an_entry_or_result_when_in_the_catalogue_then_in_the_glossary(key):
    glossary = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Words")[2]
    calculation = registry.catalogue()[key]
    names = {one.name for one in (*calculation.inputs, *calculation.outputs)}
    assert not {name for name in names if f"`{name}`" not in glossary}
