"""The project's own files, for the tests that read them."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("calc", "buildlog")


def python_files(*folders: str) -> list[Path]:
    """Every Python file of the folders but the migrations, which are written by Django."""
    return sorted(
        path for folder in folders for path in (ROOT / folder).rglob("*.py") if "migrations" not in path.parts
    )


def templates() -> list[Path]:
    return sorted((ROOT / "templates").rglob("*.html"))


def parse(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imports(path: Path) -> Iterator[str]:
    """The full names of what a file imports, wherever in it that is written."""
    for node in ast.walk(parse(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def run(*command: str, **options) -> subprocess.CompletedProcess[str]:
    """A command of this Python's own, in the project's folder."""
    return subprocess.run(
        [sys.executable, *command], cwd=ROOT, capture_output=True, text=True, check=False, **options
    )
