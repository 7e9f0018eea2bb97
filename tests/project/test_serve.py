"""`manage.py serve` as someone starting it meets it: a real process, on a real port, with a folder of its own."""

from __future__ import annotations

import os
import re
import signal
import socket
import sqlite3
import threading
import urllib.request
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from review.management.commands.serve import Command
from review.serving.running import servers_on
from tests.servers import PATIENCE, free_port, refused, serving, with_migrated

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from pytest_django import Settings

    from tests.servers import Server

KILLED = getattr(signal, "SIGKILL", signal.SIGTERM)  # which on Windows ends a process just so


@dataclass(frozen=True)
class BesideAnother:
    """What was met at starts on a folder that a server runs on: what one said that was at its port, what one printed
    that was at another, and the status of the first page at both by then."""

    said_at_its_port: str
    printed: str
    statuses: list[int]


@dataclass(frozen=True)
class FirstStart:
    """What was met at a first start, in a folder that was not there, and at a second one beside it; both are stopped
    since.

    `where` is how others are told of the server. `status` and `page` are of the first page, `sheet_kept` says how long
    browsers may keep its style sheet, which has a name of its own for each text. `beside` is what was met at the
    second, and `open_to_others` what others than the folder's owner could read or write.
    """

    folder: Path
    where: str
    code: str
    printed: str
    status: int
    page: str
    sheet_kept: str
    beside: BesideAnother
    open_to_others: list[str]


@dataclass(frozen=True)
class Demo:
    """What was met at a start with the demo, on a database with nothing in it; the server was killed since.

    `opened` says of each link that was printed whose it is, and which status and page it leads to.
    """

    folder: Path
    port: int
    opened: list[tuple[str, int, str]]
    status_of_no_link: int


@dataclass(frozen=True)
class StartedAgain:
    """What was met at the next start on the folder of the demo, at the port that the killed server had; this one was
    for others too, with another server in front, and is stopped since.

    Before it, others than the folder's owner could read everything, and there were two sessions, one that had ended and
    one that is open. `keys` are what sessions were signed with before and after.
    """

    printed: str
    status: int
    open_to_others: list[str]
    keys: tuple[str, str]
    sessions: set[str]


@pytest.fixture(scope="module")
def first_start(tmp_path_factory: pytest.TempPathFactory) -> FirstStart:
    """From a shell whose mask takes no right from anybody."""
    folder = tmp_path_factory.mktemp("served") / "new" / "folder"
    before = os.umask(0)
    try:
        with serving(folder) as server:
            code = server.wait_for(r"/setup/ and give this one-time code: (\S+)").group(1)
            status, page = server.get("/")  # whoever is told of it finds it at once
            sheet = re.search(r'href="(/static/css/common\.[0-9a-f]{12}\.css)"', page)
            assert sheet, page
            with urllib.request.urlopen(f"http://127.0.0.1:{server.port}{sheet.group(1)}") as answer:
                kept = str(answer.headers["Cache-Control"])
            assert {f"fairhand.sqlite3{more}" for more in ("", "-wal", "-shm")} <= {
                path.name for path in folder.iterdir()
            }
            beside = start_beside(server, folder)
            seen = others_may(folder)
    finally:
        os.umask(before)
    where = f"http://127.0.0.1:{server.port} (process {server.pid})"
    return FirstStart(folder, where, code, "".join(server.printed), status, page, kept, beside, seen)


def start_beside(first: Server, folder: Path) -> BesideAnother:
    said = refused(folder, "--port", str(first.port))
    with serving(folder) as second:
        second.wait_for("one-time code")
        statuses = [server.get("/")[0] for server in (first, second)]
    return BesideAnother(said, "".join(second.printed), statuses)


def others_may(folder: Path) -> list[str]:
    """What in the folder, itself among it, somebody else than its owner may read or write."""
    inside = [path for path in (folder, *folder.rglob("*")) if not path.is_relative_to(folder / "static" / "inside")]
    return [str(path) for path in inside if path.is_dir() or "static" not in path.parts if path.stat().st_mode & 0o077]


def test_a_first_start_makes_the_database_and_prints_a_setup_code(first_start: FirstStart) -> None:
    assert first_start.status == 200
    assert "one-time code" in first_start.page.lower()
    assert first_start.code not in first_start.page
    assert "in clear" not in first_start.printed  # nobody else reaches it
    assert (first_start.folder / "fairhand.sqlite3").exists()


def test_once_the_server_has_stopped_the_file_of_the_database_has_all_that_is_in_it(first_start: FirstStart) -> None:
    assert [path.name for path in first_start.folder.glob("fairhand.sqlite3*")] == ["fairhand.sqlite3"]
    with closing(sqlite3.connect(first_start.folder / "fairhand.sqlite3")) as database:
        assert database.execute("SELECT count(*) FROM review_setupcode").fetchone() == (1,)


def test_the_files_of_a_first_start_are_their_owners_alone_whatever_the_shell_lets_others_do(
    first_start: FirstStart,
) -> None:
    assert first_start.open_to_others == []
    assert len((first_start.folder / "secret-key").read_text()) >= 50


def test_static_files_are_served_under_names_that_browsers_may_keep(first_start: FirstStart) -> None:
    assert "immutable" in first_start.sheet_kept


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory, migrated: Path) -> Demo:
    folder = with_migrated(tmp_path_factory.mktemp("demo"), migrated)
    with serving(folder, "--demo") as server:
        server.wait_for("this machine only")
        links = [server.wait_for(r"^  (.+?) +http://127\.0\.0\.1:\d+(/in/\S+/)") for _ in range(4)]
        opened = [(link.group(1), *server.get(link.group(2))) for link in links]
        met = Demo(folder, server.port, opened, server.get("/in/not-a-link/")[0])
        os.kill(server.pid, KILLED)
    return met


def wait_until_free(port: int) -> None:
    for _ in range(PATIENCE * 10):
        with suppress(OSError), socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(("127.0.0.1", port))
            return
        threading.Event().wait(0.1)
    pytest.fail(f"Something has port {port} still.")


@pytest.fixture(scope="module")
def started_again(demo: Demo) -> StartedAgain:
    database, key = demo.folder / "fairhand.sqlite3", demo.folder / "secret-key"
    with closing(sqlite3.connect(database)) as opened, opened:
        ends = {"ended": "2001-01-01", "open": "2999-01-01"}
        opened.executemany("INSERT INTO django_session VALUES (?, '', ?)", ends.items())
    for path in (demo.folder, database, key):
        path.chmod(0o755)
    key_before = key.read_text()
    wait_until_free(demo.port)
    in_front = {"CSRF_TRUSTED_ORIGINS": "https://script.example.org"}
    with serving(demo.folder, "--demo", "--host", "0.0.0.0", port=demo.port, **in_front) as server:
        server.wait_for("never through another server")
        status, _ = server.get("/")
        seen = others_may(demo.folder)
    with closing(sqlite3.connect(database)) as opened:
        sessions = {key for (key,) in opened.execute("SELECT session_key FROM django_session")}
    return StartedAgain("".join(server.printed), status, seen, (key_before, key.read_text()), sessions)


def test_the_demo_prints_links_that_say_whose_they_are_and_show_no_page_to_others(demo: Demo) -> None:
    for whose, status, page in demo.opened:
        assert status == 200
        assert whose.split(",")[0].strip() in page
    assert demo.status_of_no_link == 404
    roles = " ".join(whose for whose, _, _ in demo.opened).lower()
    assert "writer" in roles
    assert "cast" in roles


def test_the_files_of_before_are_made_their_owners_alone_and_the_key_and_open_sessions_are_kept(
    started_again: StartedAgain,
) -> None:
    before, after = started_again.keys
    assert started_again.open_to_others == []
    assert after == before
    assert started_again.sessions == {"open"}


def test_a_server_that_was_killed_leaves_nothing_that_stands_in_the_way_of_the_next(
    started_again: StartedAgain,
) -> None:
    """Nor its workers, which would have the port."""
    assert started_again.status == 200
    assert "as well" not in started_again.printed


def test_where_others_can_reach_it_that_is_said_and_no_link_of_the_demo_is_printed_behind_a_proxy(
    started_again: StartedAgain,
) -> None:
    assert re.search("plain HTTP.*in clear.*HTTPS in front", started_again.printed)
    assert "never through another server" in started_again.printed
    assert "/in/" not in started_again.printed


@pytest.fixture
def refused_at_once(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, settings: Settings
) -> Callable[..., str]:
    """What a `serve` says that ends before it comes near a database; it must be one line, as of `refused`.

    It is typed as at a shell and run in this process, for a start is most of what one of its own would take.
    """

    monkeypatch.setenv("SITE_ADDRESS", settings.SITE_ADDRESS)  # a start says where letters lead: not to later tests
    monkeypatch.setattr("review.management.commands.serve.prepare_database", lambda: pytest.fail("It went on."))
    settings.SITE_ADDRESS = ""

    def start(folder: Path, *arguments: str) -> str:
        settings.DATA_DIR, settings.SECRET_KEY_FILE = folder, folder / "secret-key"
        with pytest.raises(SystemExit) as end:
            Command().run_from_argv(["manage.py", "serve", *arguments])
        assert end.value.code == 1
        printed, said = capsys.readouterr()
        assert printed == ""
        lines: list[str] = said.strip().splitlines()
        assert len(lines) == 1, said
        return lines[0]

    return start


def test_a_taken_port_is_one_clear_sentence(refused_at_once: Callable[..., str], tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert f"Port {port} at 127.0.0.1 cannot be used" in refused_at_once(tmp_path, "--port", str(port))


def test_a_second_server_on_one_folder_is_told_of_the_first(first_start: FirstStart) -> None:
    folder, where, beside = first_start.folder, first_start.where, first_start.beside
    assert f"Fairhand runs on the folder {folder} already, at {where}: open that address." in beside.said_at_its_port
    assert f"{folder} is served at {where} as well" in beside.printed
    assert beside.statuses == [200, 200]


def test_a_server_that_has_stopped_is_known_no_longer_while_its_last_letter_is_under_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, settings: Settings
) -> None:
    """Its port is free by then, and the next server may start at it."""
    known: list[tuple[str, list[int]]] = []

    @contextmanager
    def mail_sent(*_: object) -> Iterator[None]:
        yield
        known.append(("mail", list(servers_on(tmp_path))))

    def serve(*_: object) -> None:
        known.append(("pages", list(servers_on(tmp_path))))

    monkeypatch.setenv("SITE_ADDRESS", settings.SITE_ADDRESS)
    settings.DATA_DIR = tmp_path
    patched: dict[str, Callable[..., object]] = {"mail_sent_meanwhile": mail_sent, "serve_until_stopped": serve}
    beside = ["make_data_folder", "prepare_database", "keep_for_owner", "allow_hosts", "collect_static_files"]
    for name in (*beside, "once_it_answers", "fold_in_what_came_last"):
        patched[name] = lambda *_: None
    for name, instead in patched.items():
        monkeypatch.setattr(f"review.management.commands.serve.{name}", instead)
    monkeypatch.setattr(Command, "welcome", lambda *_, **__: [])
    port = free_port()
    Command().handle(host="127.0.0.1", port=port, demo=False)
    assert known == [("pages", [port]), ("mail", [])]


def test_a_port_that_is_none_is_one_clear_sentence(refused_at_once: Callable[..., str], tmp_path: Path) -> None:
    assert "There is no port 70000" in refused_at_once(tmp_path, "--port", "70000")


def test_an_address_of_no_machine_is_one_clear_sentence(refused_at_once: Callable[..., str], tmp_path: Path) -> None:
    assert "no address" in refused_at_once(tmp_path, "--host", "nowhere.invalid", "--port", str(free_port()))


def test_a_folder_that_cannot_be_written_is_one_clear_sentence(
    refused_at_once: Callable[..., str], tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("not a folder")
    said = refused_at_once(tmp_path / "file" / "data", "--port", str(free_port()))
    assert "cannot be written to" in said
    assert "FAIRHAND_DATA" in said


def test_a_folder_that_style_sheets_cannot_go_into_is_one_clear_sentence(
    refused_at_once: Callable[..., str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, settings: Settings
) -> None:
    monkeypatch.setattr("review.management.commands.serve.prepare_database", lambda: None)
    for told_to_workers in ("ALLOWED_HOSTS", "STATIC_HASHED"):  # not to later tests
        monkeypatch.setenv(told_to_workers, "")
    settings.STATIC_ROOT = tmp_path / "static"
    settings.STATIC_ROOT.write_text("not a folder")
    said = refused_at_once(tmp_path, "--port", str(free_port()))
    assert f"cannot be put into {settings.STATIC_ROOT}" in said


def test_a_database_of_a_newer_version_is_one_clear_sentence(tmp_path: Path, migrated: Path) -> None:
    with_migrated(tmp_path, migrated)
    with sqlite3.connect(tmp_path / "fairhand.sqlite3") as database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('review', '9999_of_later', '2026-01-01')"
        )
    assert "newer version" in refused(tmp_path, "--port", str(free_port()))


@pytest.mark.parametrize("largest_file", [0, 200 * 1024])
def test_a_full_disk_is_one_clear_sentence(tmp_path: Path, largest_file: int) -> None:
    """For the folder itself, and for the database."""
    said = refused(tmp_path / "data", "--port", str(free_port()), largest_file=largest_file)
    assert "room on" in said
    assert "FAIRHAND_DATA" in said or str(tmp_path) in said


def test_a_file_that_is_no_database_is_one_clear_sentence(tmp_path: Path) -> None:
    (tmp_path / "fairhand.sqlite3").write_text("this is a letter, not a database" * 40)
    assert "cannot be opened" in refused(tmp_path, "--port", str(free_port()))
