"""The project speaks of itself alone: no machine's folders, no addresses of registries."""

import subprocess

import pytest

from tests.repo.tree import ROOT

ENDINGS = {".py", ".md", ".html", ".css", ".js", ".toml", ".txt", ".in", ".csv", ".svg", ".json", ""}
#: Put together here, so that this file does not hold what it looks for.
FORBIDDEN = ("/" + "work/", "/" + "root/", "pypi" + ".org", "pythonhosted" + ".org", "npmjs" + ".com")


def own_files():
    """The files under version control and those about to be, which leaves out all that is ignored."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if listed.returncode:
        pytest.skip("this copy is not under version control")
    return [ROOT / name for name in listed.stdout.splitlines() if (ROOT / name).suffix in ENDINGS]


def test_files_when_read_then_name_no_machine_and_no_registry():
    found = []
    for path in own_files():
        if path.is_file():
            text = path.read_text(encoding="utf-8", errors="replace")
            found += [f"{path.relative_to(ROOT)}: {word}" for word in FORBIDDEN if word in text]
    assert found == []
