"""What is installed is pinned, hashed, and named without any host."""

import re
import tomllib

import pytest

from tests.repo.tree import ROOT

FOLDER = ROOT / "buildlog" / "requirements"
KINDS = ("run", "test", "server")


def pins(kind: str) -> dict[str, str]:
    """Package and version of each requirement; the text must hold nothing else but markers and hashes."""
    found = {}
    text = (FOLDER / f"{kind}.txt").read_text(encoding="utf-8").replace("\\\n", " ")
    for line in filter(None, map(str.strip, text.splitlines())):
        match = re.fullmatch(
            r"([a-z0-9.-]+)(?:\[[a-z,]+\])?==([0-9a-z.]+)( ; [^@/]+?)?((?: +--hash=sha256:[0-9a-f]{64})+)",
            line,
        )
        assert match, line[:120]
        found[match[1]] = match[2]
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_pins_when_read_then_hashed_and_without_host_or_folder(kind):
    assert len(pins(kind)) > 10


@pytest.mark.parametrize("kind", ["test", "server"])
def test_pins_when_wider_then_hold_the_run_at_the_same_versions(kind):
    wider = pins(kind)
    assert {name: wider.get(name) for name in pins("run")} == pins("run")


def test_pins_of_the_run_when_read_then_leave_out_what_is_heavy_and_not_needed():
    assert not {"numpy", "scipy", "pint", "shapely", "pytest"} & set(pins("run"))


@pytest.mark.parametrize("kind", KINDS)
def test_sources_of_the_pins_when_read_then_each_is_pinned_as_written(kind):
    for name, version in re.findall(
        r"^([\w-]+)(?:\[.*\])?==(\S+)$", (FOLDER / f"{kind}.in").read_text(), re.M
    ):
        assert pins(kind)[name.lower().replace("_", "-")] == version


def test_project_when_it_gives_ranges_then_for_just_the_packages_of_the_sources():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {"run": project["dependencies"], **project["optional-dependencies"]}
    for kind in KINDS:
        named = {re.match(r"[\w-]+", line)[0].lower() for line in wanted[kind]}
        sources = re.findall(r"^([\w-]+)(?:\[.*\])?==", (FOLDER / f"{kind}.in").read_text(), re.M)
        assert named == {name.lower() for name in sources}
