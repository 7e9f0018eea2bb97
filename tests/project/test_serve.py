"""`manage.py serve` as someone starting it meets it: a real process, on a real port, with a folder of its own."""

from __future__ import annotations

import os
import re
import socket
import sqlite3
import urllib.request
from typing import TYPE_CHECKING

from tests.servers import free_port, refused, serving

if TYPE_CHECKING:
    from pathlib import Path


def test_a_first_start_makes_the_database_and_prints_a_setup_code(tmp_path: Path) -> None:
    with serving(tmp_path / "new" / "folder") as server:
        code = server.wait_for(r"/setup/ and give this one-time code: (\S+)").group(1)
        server.wait_until_it_answers()
        status, page = server.get("/")
        assert status == 200
        assert "one-time code" in page.lower()
        assert code not in page
    assert (tmp_path / "new" / "folder" / "fairhand.sqlite3").exists()


def test_the_key_is_kept_from_start_to_start_and_is_its_owners_alone(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as server:
        server.wait_for("one-time code")
    key = (tmp_path / "data" / "secret-key").read_text()
    if os.name == "posix":
        assert (tmp_path / "data" / "secret-key").stat().st_mode & 0o077 == 0
    with serving(tmp_path / "data") as server:
        server.wait_for("one-time code")
    assert (tmp_path / "data" / "secret-key").read_text() == key
    assert len(key) >= 50


def test_the_demo_prints_links_that_say_whose_they_are_and_show_no_page_to_others(tmp_path: Path) -> None:
    with serving(tmp_path / "data", "--demo") as server:
        server.wait_for("this machine only")
        links = [server.wait_for(r"^  (.+?) +http://127\.0\.0\.1:\d+(/in/\S+/)") for _ in range(4)]
        server.wait_until_it_answers()
        for link in links:
            status, page = server.get(link.group(2))
            assert status == 200
            assert link.group(1).split(",")[0].strip() in page
        assert server.get("/in/not-a-link/")[0] == 404
    roles = " ".join(link.group(1) for link in links).lower()
    assert "writer" in roles
    assert "cast" in roles


def test_static_files_are_served_under_names_that_browsers_may_keep(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as server:
        server.wait_for("one-time code")
        server.wait_until_it_answers()
        _, page = server.get("/")
        sheet = re.search(r'href="(/static/css/app\.[0-9a-f]{12}\.css)"', page)
        assert sheet, page
        with urllib.request.urlopen(f"http://127.0.0.1:{server.port}{sheet.group(1)}") as answer:
            assert "immutable" in answer.headers["Cache-Control"]


def test_a_taken_port_is_one_clear_sentence(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert f"Port {port} at 127.0.0.1 cannot be used" in refused(tmp_path, "--port", str(port))


def test_a_port_that_is_none_is_one_clear_sentence(tmp_path: Path) -> None:
    assert "There is no port 70000" in refused(tmp_path, "--port", "70000")


def test_an_address_of_no_machine_is_one_clear_sentence(tmp_path: Path) -> None:
    assert "no address" in refused(tmp_path, "--host", "nowhere.invalid", "--port", str(free_port()))


def test_a_folder_that_cannot_be_written_is_one_clear_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    said = refused(tmp_path / "file" / "data", "--port", str(free_port()))
    assert "cannot be written to" in said
    assert "FAIRHAND_DATA" in said


def test_a_database_of_a_newer_version_is_one_clear_sentence(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as server:
        server.wait_for("one-time code")
    with sqlite3.connect(tmp_path / "data" / "fairhand.sqlite3") as database:
        database.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('review', '9999_of_later', '2026-01-01')"
        )
    assert "newer version" in refused(tmp_path / "data", "--port", str(free_port()))


def test_a_file_that_is_no_database_is_one_clear_sentence(tmp_path: Path) -> None:
    (tmp_path / "fairhand.sqlite3").write_text("this is a letter, not a database" * 40)
    assert "cannot be opened" in refused(tmp_path, "--port", str(free_port()))
