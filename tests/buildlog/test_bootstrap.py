"""From a bare Python to a running command: what is made, what is said, what is refused."""

import ast
import importlib.util
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

import manage
from buildlog import bootstrap

ROOT = Path(settings.BASE_DIR)


@pytest.fixture
def pins(tmp_path, monkeypatch):
    """A folder of requirement files of the test's own."""
    folder = tmp_path / "requirements"
    folder.mkdir()
    for kind in ("run", "test"):
        (folder / f"{kind}.txt").write_text(f"{kind}==1\n")
    monkeypatch.setattr(bootstrap, "REQUIREMENTS", folder)
    return folder


@pytest.fixture
def pip_runs(monkeypatch):
    runs = []
    monkeypatch.setattr(bootstrap, "run_pip", lambda home, kind: runs.append(kind))
    return runs


def test_manage_when_read_by_an_old_python_then_it_can_be_parsed():
    ast.parse((ROOT / "manage.py").read_text(encoding="utf-8"), feature_version=(3, 6))


def test_manage_when_python_is_too_old_then_one_line_naming_both(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2, "final", 0))
    assert manage.main() == 2
    said = capsys.readouterr().err
    assert said.startswith("Hornplate needs Python 3.11 or newer; this is 3.9 (")
    assert said.count("\n") == 1


def test_bootstrap_when_imported_then_needs_nothing_but_the_standard_library():
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from buildlog import bootstrap; "
        "found = {name.split('.')[0] for name in sys.modules}; "
        "print(*found - {*sys.stdlib_module_names, '__main__'})"
    )
    done = subprocess.run(
        [sys.executable, "-S", "-I", "-c", code, str(ROOT)], capture_output=True, text=True, check=True
    )
    assert done.stdout == "buildlog\n"


def test_install_when_the_pins_are_the_same_then_pip_is_not_run_again(tmp_path, pins, pip_runs, capsys):
    bootstrap.install(tmp_path, "run")
    bootstrap.install(tmp_path, "run")
    assert pip_runs == ["run"]
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert f"By hand: {bootstrap.python_of(tmp_path)} -m pip install -r {pins / 'run.txt'}" in said


def test_install_when_the_pins_change_then_pip_is_run_again(tmp_path, pins, pip_runs):
    bootstrap.install(tmp_path, "run")
    (pins / "run.txt").write_text("run==2\n")
    bootstrap.install(tmp_path, "run")
    assert pip_runs == ["run", "run"]


def test_install_when_tests_come_after_a_run_then_installed_and_a_run_needs_no_more(tmp_path, pins, pip_runs):
    for kind in ("run", "test", "run", "test"):
        bootstrap.install(tmp_path, kind)
    assert pip_runs == ["run", "test"]


def test_install_when_the_note_of_the_last_one_is_spoilt_then_installed_again(tmp_path, pins, pip_runs):
    bootstrap.install(tmp_path, "run")
    (tmp_path / "hornplate.json").write_text("{half")
    bootstrap.install(tmp_path, "run")
    assert pip_runs == ["run", "run"]
    assert set(json.loads((tmp_path / "hornplate.json").read_text())) == {"run"}


def test_environment_when_somebody_elses_has_all_then_nothing_is_done(monkeypatch, pip_runs):
    monkeypatch.setattr(bootstrap, "ROOT", Path("/nowhere"))
    monkeypatch.setattr(bootstrap, "hand_over", lambda home, argv: pytest.fail("handed over"))
    bootstrap.enter_environment(["manage.py", "test"])
    assert pip_runs == []


def test_environment_when_somebody_elses_lacks_the_tests_packages_then_says_what_to_install(
    monkeypatch, pip_runs
):
    real = importlib.util.find_spec
    monkeypatch.setattr(bootstrap, "ROOT", Path("/nowhere"))
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "xdist" else real(name))
    with pytest.raises(bootstrap.BootstrapError, match=r"has Django, but not xdist; install .*test\.txt"):
        bootstrap.enter_environment(["manage.py", "test"])
    bootstrap.enter_environment(["manage.py", "start"])
    assert pip_runs == []


@pytest.mark.parametrize("version", ["", "3.2.19", "6.0.1"])
def test_environment_when_no_fitting_django_then_one_of_our_own(
    monkeypatch, tmp_path, pip_runs, pins, version
):
    done = []
    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap, "installed_version", lambda name: version)
    monkeypatch.setattr(bootstrap, "make_environment", lambda home: (home.mkdir(), done.append("made")))
    monkeypatch.setattr(bootstrap, "hand_over", lambda home, argv: done.append(argv))
    bootstrap.enter_environment(["manage.py", "start"])
    assert done == ["made", ["manage.py", "start"]]
    assert pip_runs == ["run"]


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_make_environment_when_a_module_is_missing_then_the_package_of_debian_is_named(
    monkeypatch, tmp_path, missing
):
    real = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == missing else real(name))
    with pytest.raises(bootstrap.BootstrapError, match="sudo apt install python3-venv"):
        bootstrap.make_environment(tmp_path / ".venv")


def test_make_environment_when_the_folder_cannot_be_written_then_one_line(tmp_path):
    (tmp_path / "file").touch()
    with pytest.raises(bootstrap.BootstrapError, match="could not be made") as caught:
        bootstrap.make_environment(tmp_path / "file" / ".venv")
    assert "\n" not in str(caught.value)


def test_main_when_pip_finds_no_network_then_one_line_and_the_next_start_tries_again(
    monkeypatch, tmp_path, pins, capsys
):
    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap, "installed_version", lambda name: "")
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    (pins / "run.txt").write_text(f"hornplate-has-no-such-package==1 --hash=sha256:{'0' * 64}\n")
    assert bootstrap.main(["manage.py", "start"]) == 1
    last = capsys.readouterr().err.splitlines()[-1]
    assert last.startswith("The packages could not be installed (is the network there?): ERROR: ")
    assert "By hand: " in last
    assert bootstrap.is_whole(tmp_path / ".venv")
    assert not (tmp_path / ".venv" / "hornplate.json").exists()


def test_is_whole_when_the_environment_was_cut_short_then_not(tmp_path):
    assert not bootstrap.is_whole(tmp_path)
    python = bootstrap.python_of(tmp_path)
    python.parent.mkdir(parents=True)
    python.write_text("#!/bin/false\n")
    assert not bootstrap.is_whole(tmp_path)
    python.chmod(0o755)
    assert not bootstrap.is_whole(tmp_path)


@pytest.mark.parametrize(
    ("given", "run"),
    [
        ([], ["-n", "2"]),
        (["-k", "x"], ["-n", "2", "-k", "x"]),
        (["-n", "4"], ["-n", "4"]),
        (["-n4"], ["-n4"]),
        (["-p", "no:xdist"], ["-p", "no:xdist"]),
    ],
)
def test_run_tests_when_workers_are_not_chosen_then_two(monkeypatch, given, run):
    asked = []
    monkeypatch.setattr(pytest, "main", lambda arguments: asked.extend(arguments) or 0)
    monkeypatch.setattr(os, "chdir", lambda folder: None)
    assert bootstrap.run_tests(given) == 0
    assert asked == run


def test_main_when_interrupted_then_says_so_in_one_line(monkeypatch, capsys):
    def interrupt(argv):
        raise KeyboardInterrupt

    monkeypatch.setattr(bootstrap, "enter_environment", interrupt)
    assert bootstrap.main(["manage.py", "start"]) == 130
    assert capsys.readouterr().err == "\nStopped.\n"


def test_command_when_the_database_is_postgresql_and_its_packages_are_missing_then_one_line(monkeypatch):
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    with pytest.raises(bootstrap.BootstrapError, match=r"DATABASE_URL .* -m pip install -r .*server\.txt"):
        bootstrap.refuse_without_driver("django.db.backends.postgresql")
    bootstrap.refuse_without_driver("django.db.backends.sqlite3")
