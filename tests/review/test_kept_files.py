"""The files of what was worked out: never more bytes than was said, nobody else's to read, and safe to lose."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from review.kept_files import KeptFiles

if TYPE_CHECKING:
    from pathlib import Path

A_PAGE = os.urandom(1000)  # which nothing makes shorter
MOST = 3500


@pytest.fixture
def files(tmp_path: Path) -> KeptFiles:
    return KeptFiles(tmp_path / "pages", {"TIMEOUT": None, "OPTIONS": {"MOST_BYTES": MOST}})


def kept_in(tmp_path: Path) -> list[Path]:
    return sorted((tmp_path / "pages").iterdir())


def test_what_is_put_in_comes_out(files: KeptFiles) -> None:
    files.set("a", A_PAGE)
    assert files.get("a") == A_PAGE
    assert files.get("b") is None


def test_the_oldest_goes_once_there_would_be_more_bytes_than_was_said(files: KeptFiles, tmp_path: Path) -> None:
    for second, key in enumerate("abcd"):
        files.set(key, A_PAGE)
        for path in kept_in(tmp_path):
            os.utime(path, (path.stat().st_atime, min(path.stat().st_mtime, second)))
    assert files.get("a") is None
    assert [files.get(key) for key in "bcd"] == [A_PAGE] * 3
    assert sum(path.stat().st_size for path in kept_in(tmp_path)) <= MOST


def test_only_the_server_s_own_user_can_read_them(files: KeptFiles, tmp_path: Path) -> None:
    files.set("a", A_PAGE)
    assert [path.stat().st_mode & 0o777 for path in (tmp_path / "pages", *kept_in(tmp_path))] == [0o700, 0o600]


def test_a_file_that_was_spoiled_is_one_that_is_not_there(files: KeptFiles, tmp_path: Path) -> None:
    files.set("a", A_PAGE)
    too_long, no_such_module = b"\x8d" + b"\xff" * 8, b"cnowhere\nat_all\n."
    for spoiled in (b"", b"\x80\x05K\x01.no", too_long, no_such_module, A_PAGE):
        kept_in(tmp_path)[0].write_bytes(spoiled)
        assert "a" not in files
        assert files.get("a") is None
        files.set("a", A_PAGE)
        assert "a" in files


def test_a_folder_that_cannot_be_written_to_keeps_nothing_and_stops_nobody(tmp_path: Path) -> None:
    (tmp_path / "pages").write_text("a file where the folder should be")
    files = KeptFiles(tmp_path / "pages", {"TIMEOUT": None, "OPTIONS": {"MOST_BYTES": MOST}})
    files.set("a", A_PAGE)
    assert "a" not in files
    assert files.get("a") is None
