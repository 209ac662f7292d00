"""The tools that keep the code in shape, and the limits they do not know."""

import ast
import os

import pytest

from tests.repo.tree import ROOT, parse, python_files, relative, run

BODY_LIMIT = 40
FILE_LIMIT = 500


@pytest.mark.parametrize("arguments", [("check",), ("format", "--check")], ids=["check", "format"])
def test_ruff_when_run_then_has_nothing_to_say(arguments):
    done = run("-m", "ruff", *arguments, "--no-cache", "--quiet", ".")
    assert done.returncode == 0, done.stdout + done.stderr


def test_mypy_when_run_strictly_then_has_nothing_to_say(tmp_path):
    # The plugin loads the settings, which want a data folder; the one of the tests will do.
    done = run(
        "-m", "mypy", "--no-error-summary", env={**os.environ, "DJANGO_SETTINGS_MODULE": "buildlog.settings"}
    )
    assert done.returncode == 0, done.stdout + done.stderr


def functions(path):
    for node in ast.walk(parse(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def body_lines(function) -> int:
    """Lines from the first statement after the docstring to the last."""
    body = function.body
    documented = isinstance(body[0], ast.Expr) and isinstance(body[0].value, ast.Constant)
    first = body[1] if documented and len(body) > 1 else body[0]
    return body[-1].end_lineno - first.lineno + 1


@pytest.mark.parametrize(
    "path", [ROOT / "manage.py", *python_files("calc", "buildlog", "tests")], ids=relative
)
def test_file_when_measured_then_it_and_its_functions_are_short(path):
    long = [f"{one.name}: {body_lines(one)}" for one in functions(path) if body_lines(one) > BODY_LIMIT]
    assert long == []
    assert len(path.read_text(encoding="utf-8").splitlines()) <= FILE_LIMIT


@pytest.mark.parametrize(
    "path", [path for path in python_files("calc", "buildlog") if path.stat().st_size], ids=relative
)
def test_module_when_read_then_says_which_room_it_is(path):
    assert ast.get_docstring(parse(path))


@pytest.mark.parametrize(
    "path", [path for path in python_files("calc/kernel") if path.stat().st_size], ids=relative
)
def test_kernel_function_when_public_then_documented(path):
    for node in parse(path).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), node.name
