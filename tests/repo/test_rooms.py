"""The rooms and the arrows between them."""

import ast
import sys

import pytest

from tests.repo.tree import ROOT, imports, parse, python_files, relative, run

#: How the site may reach the sums.
DOORS = (
    "calc.answers.card",  # what a kept sum says on a work card
    "calc.checks",  # the published values a sum is held to
    "calc.trials",  # trial cuts beside a kept plan
    "calc.figures",
    "calc.forms",
    "calc.measures",
    "calc.models",
    "calc.pdf",
    "calc.record_views",
    "calc.records",
    "calc.registry",
    "calc.sheets",  # what the PDF is told
    "calc.threads_named",  # threads by their names, and what looks alike
    "calc.views",
)
KERNEL = sorted(path.stem for path in (ROOT / "calc" / "kernel").glob("*.py") if path.stem != "__init__")


def is_in(name: str, rooms: tuple[str, ...]) -> bool:
    return any(name == room or name.startswith(f"{room}.") for room in rooms)


def test_contracts_when_checked_then_all_kept():
    code = (
        "import sys; from importlinter.cli import lint_imports_command; "
        "sys.argv = ['lint-imports', '--no-cache']; lint_imports_command()"
    )
    done = run("-c", code)
    assert done.returncode == 0, done.stdout + done.stderr
    assert " 0 broken" in done.stdout


def test_kernel_when_everything_else_is_blocked_then_imports():
    code = f"""
import importlib, sys
class Block:
    def find_spec(self, name, path=None, target=None):
        first = name.partition(".")[0]
        ours = name in ("calc", "calc.kernel") or name.startswith("calc.kernel.")
        if not ours and first not in sys.stdlib_module_names:
            raise ImportError(f"the kernel reached for {{name}}")
sys.meta_path.insert(0, Block())
for stem in {KERNEL!r}:
    importlib.import_module(f"calc.kernel.{{stem}}")
print(len({KERNEL!r}))
"""
    done = run("-c", code)
    assert done.stdout == f"{len(KERNEL)}\n", done.stderr
    assert len(KERNEL) > 4


@pytest.mark.parametrize("path", python_files("calc/kernel"), ids=relative)
def test_kernel_file_when_read_then_names_only_itself_and_the_standard_library(path):
    for name in imports(path):
        assert name.partition(".")[0] in sys.stdlib_module_names or is_in(name, ("calc.kernel",)), name


def opens_files(path) -> bool:
    names = {"open", "read_text", "read_bytes", "write_text", "write_bytes", "iterdir", "glob", "rglob"}
    for node in ast.walk(parse(path)):
        if isinstance(node, ast.Call):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if called in names:
                return True
    return False


def test_kernel_when_files_are_opened_then_only_by_its_tables():
    assert [path.stem for path in python_files("calc/kernel") if opens_files(path)] == ["tables"]


@pytest.mark.parametrize("path", python_files("calc"), ids=relative)
def test_calc_file_when_read_then_names_nothing_of_the_site(path):
    assert not [name for name in imports(path) if is_in(name, ("buildlog",))]


@pytest.mark.parametrize("path", python_files("buildlog"), ids=relative)
def test_site_file_when_it_needs_sums_then_comes_by_one_of_the_doors(path):
    assert not [name for name in imports(path) if is_in(name, ("calc",)) and not is_in(name, DOORS)]


@pytest.mark.parametrize(
    ("package", "room"), [("reportlab", "calc/pdf_paper.py"), ("pint", "calc/measures.py")]
)
def test_package_when_used_then_in_its_one_room(package, room):
    users = {relative(path) for path in python_files("calc", "buildlog") if package in roots(path)}
    assert users <= {room}


def roots(path) -> set[str]:
    return {name.partition(".")[0] for name in imports(path)}


@pytest.mark.parametrize(
    "path", [path for path in python_files("calc/catalogue") if path.stem != "__init__"], ids=relative
)
def test_calculation_when_in_the_catalogue_then_has_a_kernel_file_and_a_test_of_that_stem(path):
    assert (ROOT / "calc" / "kernel" / path.name).is_file()
    assert (ROOT / "tests" / "kernel" / f"test_{path.name}").is_file()


def test_signals_when_looked_for_then_none_of_our_own():
    assert not [
        relative(path)
        for path in python_files("calc", "buildlog")
        if "django.dispatch" in str([*imports(path)])
    ]
    assert not [
        relative(path)
        for path in python_files("calc", "buildlog")
        if "django.db.models.signals" in str([*imports(path)])
    ]
