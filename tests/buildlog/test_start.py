"""`manage.py start`: what it prepares, what it prints, what it refuses, and how it ends."""

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from io import StringIO

import pytest
from django.core.management.base import CommandError

from buildlog import network, serving
from buildlog.management.commands import start
from tests.started_site import PATIENCE, ROOT, StartedSite, environment


class Site(StartedSite):
    """One that is asked for pages."""

    def get(self, path="/sign-in/", **headers):
        request = urllib.request.Request(self.address + path, headers=headers)
        try:
            with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as error:
            with error:
                return error.code, ""


@pytest.fixture
def start_site(tmp_path):
    started = []

    def run(*arguments):
        started.append(Site(tmp_path / "data", *arguments))
        return started[-1]

    yield run
    for site in started:
        site.kill()


def link_of(site):
    return re.search(r"http://\S+(/sign-in/\S+)", site.said)[1]


def test_start_when_first_then_serves_pages_and_files_and_prints_the_link(start_site):
    site = start_site()
    assert site.address.startswith("http://127.0.0.1:")
    status, page = site.get()
    assert status == 200
    style = re.search(r'href="(/static/buildlog/site\.[0-9a-f]+\.css)"', page)[1]
    assert site.get(style)[0] == 200
    assert "Keep it and sign in" in open_link(site, link_of(site))


def open_link(site, path):
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
    with opener.open(site.address + path, timeout=PATIENCE) as answer:
        return answer.read().decode()


def test_start_when_again_and_no_password_chosen_then_a_fresh_link(start_site):
    first = start_site()
    assert first.stop()[0] == 0
    second = start_site()
    assert "Keep it and sign in" in open_link(second, link_of(second))


def test_start_when_asked_by_a_foreign_name_then_400(start_site):
    assert start_site().get(Host="elsewhere.example")[0] == 400


@pytest.mark.skipif(os.name == "nt", reason="signals of this kind are not sent on Windows")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_start_when_stopped_then_ends_cleanly(start_site, number):
    code, rest = start_site().stop(number)
    assert (code, rest) == (0, "Hornplate has stopped.\n")


def test_start_when_the_port_is_busy_then_one_line_and_no_data_touched(tmp_path):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        done = subprocess.run(
            [sys.executable, "manage.py", "start", "--port", str(port)],
            cwd=ROOT,
            env=environment(tmp_path),
            capture_output=True,
            text=True,
            timeout=PATIENCE,
            check=False,
        )
    assert done.returncode == 1
    assert f"Port {port} is busy" in done.stderr
    assert f"start --port {port + 1}" in done.stderr
    assert done.stderr.count("\n") == 1
    assert not (tmp_path / "hornplate.sqlite3").exists()


@pytest.mark.parametrize("port", [-1, 65536])
def test_start_when_the_port_is_no_port_then_refused(port):
    with pytest.raises(CommandError, match=f"--port is {port}; ports go from 1 to 65535"):
        start.Command().handle(port=port, lan=False, demo=False)


def test_listen_when_the_port_is_forbidden_then_a_higher_one_is_advised(monkeypatch):
    def refuse(self, address):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(socket.socket, "bind", refuse)
    with pytest.raises(network.PortError, match="Port 80 is not allowed for you"):
        network.listen("127.0.0.1", 80)


@pytest.fixture
def on_a_network(monkeypatch):
    monkeypatch.setattr(network, "own_addresses", lambda: ["192.168.1.20", "10.0.0.5"])
    monkeypatch.setattr(network, "own_names", lambda: ["workshop", "workshop.local"])


@pytest.mark.django_db
def test_lan_when_on_a_network_then_named_hosts_only_and_cards_point_there(on_a_network, settings, client):
    settings.SITE_ADDRESS = ""
    settings.ALLOWED_HOSTS = ["127.0.0.1"]
    said = StringIO()
    command = start.Command(stdout=said)
    command.say_where(command.choose_place(8000, lan=True))
    assert settings.ALLOWED_HOSTS == ["127.0.0.1", "192.168.1.20", "10.0.0.5", "workshop", "workshop.local"]
    assert settings.SITE_ADDRESS == "http://192.168.1.20:8000"
    assert "http://workshop.local:8000" in said.getvalue()
    assert "not encrypted" in said.getvalue()
    assert client.get("/sign-in/", headers={"Host": "workshop.local:8000"}).status_code == 200
    assert client.get("/sign-in/", headers={"Host": "elsewhere.example"}).status_code == 400


def test_lan_when_the_site_has_an_address_then_that_one_stays(on_a_network, settings):
    settings.SITE_ADDRESS = "http://workshop.example"
    start.Command(stdout=StringIO()).choose_place(8000, lan=True)
    assert settings.SITE_ADDRESS == "http://workshop.example"


def test_lan_when_on_no_network_then_refused(monkeypatch):
    monkeypatch.setattr(network, "own_addresses", list)
    with pytest.raises(CommandError, match="no address on a network; start it without --lan"):
        start.Command().choose_place(8000, lan=True)


def test_local_start_when_no_address_is_set_then_cards_have_none(settings):
    settings.SITE_ADDRESS = ""
    start.Command().choose_place(8000, lan=False)
    assert settings.SITE_ADDRESS == ""


def test_own_addresses_when_asked_then_reachable_ones_each_once():
    found = network.own_addresses()
    assert len(found) == len(set(found))
    assert not any(address.startswith(("127.", "0.", "169.254.")) for address in found)


def test_lan_start_when_really_run_then_answers_to_its_own_address(start_site):
    if not network.own_addresses():
        pytest.skip("this machine is on no network")
    site = start_site("--lan")
    assert "not encrypted" in site.said
    assert site.get()[0] == 200
    assert site.get(Host="elsewhere.example")[0] == 400


@pytest.mark.django_db
def test_migrate_when_nothing_is_new_then_not_run(monkeypatch):
    monkeypatch.setattr("django.core.management.call_command", None)
    assert serving.migrate_when_needed() is False


def test_static_files_when_a_source_changes_then_collected_and_otherwise_not(tmp_path, settings):
    sources = tmp_path / "sources"
    sources.mkdir()
    (sources / "one.css").write_text("a{}")
    settings.STATICFILES_DIRS = [sources]
    settings.STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
    settings.STATIC_ROOT = tmp_path / "static"
    assert serving.collect_static_when_changed() is True
    assert serving.collect_static_when_changed() is False
    (sources / "two.css").write_text("b{}")
    assert serving.collect_static_when_changed() is True
    assert (tmp_path / "static" / "two.css").exists()
    (tmp_path / "static" / "two.css").unlink()
    (sources / "one.css").unlink()
    assert serving.collect_static_when_changed() is True
    assert {path.name for path in (tmp_path / "static").iterdir()} == {"two.css"}


def test_refusal_when_printed_then_bears_the_programs_name(capsys):
    with pytest.raises(SystemExit) as ended:
        start.Command().run_from_argv(["manage.py", "start", "--port", "70000"])
    assert ended.value.code == 1
    assert capsys.readouterr().err == "Hornplate: --port is 70000; ports go from 1 to 65535.\n"
