"""Templates: nothing that the page's policy forbids, and fragments that say what they take."""

import re

import pytest

from tests.repo.tree import ROOT, relative, templates

DRAWN = sorted((ROOT / "buildlog" / "static").rglob("*.js"))


@pytest.mark.parametrize("path", templates(), ids=relative)
def test_template_when_read_then_has_no_style_and_no_script_of_its_own(path):
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"\sstyle\s*=", text)
    assert "<style" not in text
    assert not re.search(r"<script(?![^>]*\bsrc=)[^>]*>", text)
    assert not re.search(r"\son[a-z]+\s*=\s*[\"']", text)
    assert not re.search(r"\bhx-on|hx-vals=[\"']js:|javascript:", text)
    assert not re.search(r"(src|href|action)=[\"'](https?:)?//", text)


@pytest.mark.parametrize("path", [path for path in templates() if path.name.startswith("_")], ids=relative)
def test_fragment_when_read_then_its_first_line_lists_what_it_takes(path):
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert re.match(r"\{# .+ #\}", first), first


@pytest.mark.parametrize(
    "path", [path for path in templates() if "{% include" in path.read_text()], ids=relative
)
def test_include_when_written_then_of_a_fragment_that_is_there(path):
    for name in re.findall(r"\{% include \"([^\"]+)\"", path.read_text(encoding="utf-8")):
        assert (ROOT / "templates" / name).is_file(), name
        assert name.rpartition("/")[2].startswith("_"), name
