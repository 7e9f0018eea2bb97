"""Static files are collected once for all starts that find them as they are, and anew where anything is otherwise."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from review.serving.hashed_files import HashedFiles
from review.serving.readiness import CannotServe, collect_static_files

if TYPE_CHECKING:
    from pathlib import Path

    from pytest_django import Settings


@pytest.fixture
def sheets(tmp_path: Path, settings: Settings, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of one sheet, which is the only file there is to collect."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    (folder / "common.css").write_text("p { color: red }")
    monkeypatch.setenv("STATIC_HASHED", "")
    settings.STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
    settings.STATICFILES_DIRS = [folder]
    settings.DATA_DIR = tmp_path / "data"
    settings.STATIC_ROOT = tmp_path / "data" / "static"
    settings.DATA_DIR.mkdir()
    return folder


def served() -> str:
    """The sheet as browsers get it, by the name that a page gives it."""
    files = HashedFiles()
    with files.open(files.stored_name("common.css")) as sheet:
        return str(sheet.read().decode())


def made(settings: Settings) -> dict[str, tuple[int, int]]:
    """Which files are collected; each is another where it was written anew."""
    found = {path: path.stat() for path in settings.STATIC_ROOT.rglob("*")}
    return {str(path): (told.st_ino, told.st_mtime_ns) for path, told in found.items()}


def test_what_is_collected_already_is_left_alone(sheets: Path, settings: Settings) -> None:
    collect_static_files()
    before = made(settings)
    assert before
    collect_static_files()
    assert made(settings) == before


def test_another_text_of_the_same_length_and_moment_is_collected(sheets: Path) -> None:
    """As files of two releases may have, which were packed so that a build can be repeated."""
    collect_static_files()
    before = (sheets / "common.css").stat()
    (sheets / "common.css").write_text("p { color: tan }")
    os.utime(sheets / "common.css", ns=(before.st_atime_ns, before.st_mtime_ns))
    collect_static_files()
    assert served() == "p { color: tan }"


def test_a_file_that_has_gone_or_was_cut_short_is_made_again(sheets: Path, settings: Settings) -> None:
    collect_static_files()
    (sheet,) = settings.STATIC_ROOT.glob("common.*.css")
    for harm in (sheet.unlink, lambda: sheet.write_text("")):
        harm()
        collect_static_files()
        assert served() == "p { color: red }"


def test_files_that_could_not_be_collected_are_at_the_next_start(
    sheets: Path, monkeypatch: pytest.MonkeyPatch, settings: Settings
) -> None:
    def no_room(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as full:
        full.setattr(HashedFiles, "save_manifest", no_room)
        with pytest.raises(CannotServe, match="No space left on device"):
            collect_static_files()
    collect_static_files()
    assert served() == "p { color: red }"


def test_nobody_else_may_read_what_is_noted_of_them(sheets: Path, settings: Settings) -> None:
    collect_static_files()
    beside = [path for path in settings.DATA_DIR.iterdir() if path != settings.STATIC_ROOT]
    assert beside
    assert not any(path.stat().st_mode & 0o077 for path in beside)
