"""From a bare Python to a running command, with the standard library only."""

import hashlib
import importlib.metadata
import importlib.util
import json
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
REQUIREMENTS = ROOT / "buildlog" / "requirements"
NEEDED_DJANGO = "5.2"
#: The modules that show whether an environment made by somebody else has what a command needs.
NEEDED = {
    "run": (
        "axes",
        "csp",
        "dj_database_url",
        "django_htmx",
        "openpyxl",
        "pypdfium2",
        "reportlab",
        "segno",
        "waitress",
        "whitenoise",
    ),
    "test": (
        "hypothesis",
        "importlinter",
        "mypy",
        "mypy_django_plugin",
        "playwright",
        "pytest",
        "pytest_django",
        "ruff",
        "xdist",
    ),
}


class BootstrapError(Exception):
    """The command cannot go on; the message is the one line to print."""


def main(argv: list[str]) -> int:
    """Run the command in an environment that has what it needs, making that environment first if need be."""
    try:
        enter_environment(argv)
        return run_tests(argv[2:]) if argv[1:2] == ["test"] else run_command(argv)
    except BootstrapError as error:
        sys.stderr.write(f"{error}\n")
        return 1
    except KeyboardInterrupt:
        sys.stderr.write("\nStopped.\n")
        return 130


def run_command(argv: list[str]) -> int:
    from buildlog.environment import SettingError

    try:
        settings = importlib.import_module("buildlog.settings")
    except SettingError as error:
        raise BootstrapError(f"Hornplate cannot start: {error}") from error
    refuse_without_driver(settings.DATABASES["default"]["ENGINE"])
    from django.core.management import execute_from_command_line

    execute_from_command_line(argv)
    return 0


def run_tests(arguments: Sequence[str]) -> int:
    """Run pytest in the project's folder, on two workers unless something else is asked for."""
    import pytest

    os.chdir(ROOT)
    chosen = any(
        argument.startswith(("-n", "--numprocesses")) or "no:xdist" in argument for argument in arguments
    )
    return int(pytest.main([*([] if chosen else ["-n", "2"]), *arguments]))


def enter_environment(argv: list[str]) -> None:
    """Return when this Python has what the command needs; else go on in `.venv`, and do not return."""
    kind = "test" if argv[1:2] == ["test"] else "run"
    home = ROOT / ".venv"
    if Path(sys.prefix).resolve() == home.resolve():
        install(home, kind, again=not installed_version("django"))
    elif installed_version("django").startswith(NEEDED_DJANGO):
        refuse_gaps(kind)
    else:
        if not is_whole(home):
            make_environment(home)
        install(home, kind)
        hand_over(home, argv)


def installed_version(name: str) -> str:
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return ""


def refuse_gaps(kind: str) -> None:
    """In an environment that is not ours nothing is installed: what is missing is said."""
    needed = NEEDED["run"] + (NEEDED["test"] if kind == "test" else ())
    missing = [name for name in needed if importlib.util.find_spec(name) is None]
    if missing:
        raise BootstrapError(
            f"This environment ({sys.prefix}) has Django, but not {', '.join(missing)}; "
            f"install what is missing with: {sys.executable} -m pip install -r {requirement_file(kind)}"
        )


def refuse_without_driver(engine: str) -> None:
    """A run on SQLite does without the packages that PostgreSQL needs, so they are not always there."""
    needed = ("psycopg", "psycopg_pool") if engine.endswith("postgresql") else ()
    if any(importlib.util.find_spec(name) is None for name in needed):
        raise BootstrapError(
            "DATABASE_URL names a PostgreSQL database, and the packages for one are not installed; "
            f"install them with: {sys.executable} -m pip install -r {requirement_file('server')}"
        )


def make_environment(home: Path) -> None:
    if importlib.util.find_spec("venv") is None or importlib.util.find_spec("ensurepip") is None:
        raise BootstrapError(
            "This Python cannot make environments: its venv or ensurepip module is missing. "
            "On Debian and Ubuntu: sudo apt install python3-venv"
        )
    say(
        "Hornplate makes an environment of its own for its packages, once. "
        f"By hand: {sys.executable} -m venv {home}"
    )
    done = subprocess.run(
        [sys.executable, "-m", "venv", "--clear", str(home)], capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise BootstrapError(
            f"The environment {home} could not be made: {last_line(done.stdout + done.stderr)}"
        )


def is_whole(home: Path) -> bool:
    """Whether there is an environment whose Python runs and has pip."""
    python = python_of(home)
    if not python.exists():
        return False
    probe = [str(python), "-I", "-c", "import importlib.util as u, sys; sys.exit(u.find_spec('pip') is None)"]
    try:
        return subprocess.run(probe, capture_output=True, check=False).returncode == 0
    except OSError:
        return False


def install(home: Path, kind: str, *, again: bool = False) -> None:
    """Install the pinned packages of that kind, unless just these are installed already."""
    stamp = home / "hornplate.json"
    done = {} if again else read_stamp(stamp)
    if done.get(kind) == digest(requirement_file(kind)):
        return
    what = "a run needs" if kind == "run" else "the tests need"
    say(f"Installing the packages that {what}, about half a minute. By hand: {by_hand(home, kind)}")
    run_pip(home, kind)
    # What the tests need holds what a run needs, at the same versions.
    kinds = ("run", "test") if kind == "test" else ("run",)
    write_stamp(stamp, {**done, **{name: digest(requirement_file(name)) for name in kinds}})


def run_pip(home: Path, kind: str) -> None:
    log = home / "install.log"
    command = [
        *(str(python_of(home)), "-m", "pip", "install", "--require-hashes", "--no-input"),
        *("--disable-pip-version-check", "-r", str(requirement_file(kind))),
    ]
    environ = {**os.environ, "PIP_USER": "0", "PYTHONPATH": ""}
    try:
        with log.open("w", encoding="utf-8") as output:
            code = subprocess.run(
                command,
                stdout=output,
                stderr=subprocess.STDOUT,
                stdin=subprocess.DEVNULL,
                env=environ,
                check=False,
            ).returncode
    except OSError as error:
        raise BootstrapError(f"The packages could not be installed in {home}: {error.strerror}.") from error
    if code:
        raise BootstrapError(
            f"The packages could not be installed (is the network there?): {last_error(log)}. "
            f"All that pip said is in {log}. By hand: {by_hand(home, kind)}"
        )


def hand_over(home: Path, argv: list[str]) -> None:
    """Run the same command again with the environment's own Python; this process ends here."""
    command = [str(python_of(home)), str(ROOT / "manage.py"), *argv[1:]]
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name != "nt":
        os.execv(command[0], command)
    # Windows has no exec that keeps the console: wait for the child, which sees Ctrl-C itself.
    with subprocess.Popen(command) as child:
        while True:
            try:
                sys.exit(child.wait())
            except KeyboardInterrupt:
                continue


def requirement_file(kind: str) -> Path:
    return REQUIREMENTS / f"{kind}.txt"


def python_of(home: Path) -> Path:
    return home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def by_hand(home: Path, kind: str) -> str:
    return f"{python_of(home)} -m pip install -r {requirement_file(kind)}"


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def read_stamp(path: Path) -> dict[str, str]:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def write_stamp(path: Path, done: dict[str, str]) -> None:
    beside = path.with_suffix(".new")
    beside.write_text(json.dumps(done), encoding="utf-8")
    os.replace(beside, path)


def last_line(text: str) -> str:
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return lines[-1].rstrip(".") if lines else "no reason was given"


def last_error(log: Path) -> str:
    lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
    errors = [line for line in lines if line.startswith("ERROR:")]
    return last_line("\n".join(errors or lines))


def say(text: str) -> None:
    sys.stderr.write(f"{text}\n")
    sys.stderr.flush()
