"""What has to be so before the server starts: a port, a folder that is its owner's alone, files that browsers fetch.

And when it has started, so that nobody is sent to it before.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import socket
import threading
import time
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING

from django import get_version
from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.contrib.staticfiles.management.commands import collectstatic
from django.core.management import call_command
from django.core.management.utils import get_random_secret_key

from review.serving.hashed_files import HashedFiles

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

EVERY_ADDRESS = {"0.0.0.0", "::"}  # noqa: S104 - recognised here, bound to only when asked for
THIS_MACHINE = {"127.0.0.1", "::1", "localhost"}
BETWEEN_TRIES = 0.1  # seconds
RUNS_ALREADY = (
    "Fairhand runs on the folder {folder} already, at {where}: open that address. To start it anew, stop it first, by "
    "Ctrl-C in its terminal or by ending its process."
)
COLLECTED = "static-collected"  # the file that says of which static files those in the folder were made
OWNER_ALONE = 0o077  # what the mask takes from everybody but the owner


class CannotServe(Exception):
    """The server cannot start; the message says why and what to do."""


def refuse_taken_port(host: str, port: int, running: Mapping[int, str]) -> None:
    """Raise CannotServe where the port cannot be had; `running` says where servers are that have the same folder."""
    if not 0 < port < 65536:
        raise CannotServe(f"There is no port {port}: choose one from 1 to 65535 with --port.")
    try:
        family = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0][0]
    except socket.gaierror:
        raise CannotServe(f"There is no address {host} on this machine: leave --host out, or correct it.") from None
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        if os.name == "posix":  # elsewhere this would let two servers share a port
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except PermissionError:
            raise CannotServe(f"Port {port} may not be used by this account: choose another with --port.") from None
        except OSError:
            if port in running:
                raise CannotServe(RUNS_ALREADY.format(folder=settings.DATA_DIR, where=running[port])) from None
            raise CannotServe(
                f"Port {port} at {host} cannot be used, most likely because another program has it: "
                f"stop that program, or choose another port, such as --port {port + 1 if port < 65535 else 8001}."
            ) from None


def make_data_folder(folder: Path) -> None:
    """Make the folder, and in it the key that signs sessions; both, and whatever stands there, their owner's alone."""
    key_file: Path = settings.SECRET_KEY_FILE
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        probe = folder / ".writable"
        probe.write_text("It can be written to.\n", encoding="ascii")
        probe.unlink()
        keep_for_owner(folder)
        if "SECRET_KEY" not in os.environ and not _holds_something(key_file):
            key_file.touch(mode=0o600)
            key_file.write_text(get_random_secret_key(), encoding="ascii")
    except OSError as error:
        raise CannotServe(
            f"The folder {folder} cannot be written to ({error.strerror}): make it writable, and room on its disk, or "
            "name another in the environment variable FAIRHAND_DATA."
        ) from error


def _holds_something(file: Path) -> bool:
    """False of a file that is not there, and of one that a full disk left empty."""
    return file.exists() and file.stat().st_size > 0


def keep_for_owner(folder: Path) -> None:
    """Take the rights that others have to the folder, and to the files in it from before that was the rule."""
    for path in (folder, *folder.iterdir()):
        if not path.is_symlink() and path.stat().st_mode & OWNER_ALONE:
            path.chmod(path.stat().st_mode & ~OWNER_ALONE & 0o7777)


def addresses_of_this_machine() -> Iterator[str]:
    """Its names and addresses on the local network, as far as they can be told without asking the network."""
    name = socket.gethostname()
    yield name
    yield f"{name}.local"
    with contextlib.suppress(OSError):
        yield from socket.gethostbyname_ex(name)[2]
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # sends nothing: it only chooses the address we would send from
        yield probe.getsockname()[0]


def allow_hosts(host: str) -> None:
    """Let the pages answer to the addresses they are served at, unless the environment says which."""
    if not os.environ.get("ALLOWED_HOSTS"):
        names = addresses_of_this_machine() if host in EVERY_ADDRESS else [host]
        os.environ["ALLOWED_HOSTS"] = " ".join(names)


def address_to_reach(host: str) -> str:
    return "127.0.0.1" if host in EVERY_ADDRESS else host


def address_to_show(host: str) -> str:
    reached = address_to_reach(host)
    return f"[{reached}]" if ":" in reached else reached


def once_it_answers(host: str, port: int, tell: Callable[[], object]) -> None:
    """Tell, from a thread of its own, as soon as somebody takes what is sent to this address."""

    def wait_and_tell() -> None:
        while True:
            with contextlib.suppress(OSError), socket.create_connection((address_to_reach(host), port), timeout=5):
                break
            time.sleep(BETWEEN_TRIES)
        tell()

    threading.Thread(target=wait_and_tell, daemon=True).start()


def collect_static_files() -> None:
    """Collect them under names that change with their content, so that browsers may keep them for good.

    Where they are there as they were collected last, they are left alone: a start is the quicker for it, and a server
    that runs on the folder already never looks for one while it is made anew.
    """
    os.environ["STATIC_HASHED"] = "1"  # for the processes that serve, which read the settings anew
    noted: Path = settings.DATA_DIR / COLLECTED
    try:
        if noted.is_file() and noted.read_text(encoding="ascii") == _static_files_as_they_are():
            return
        collecting = collectstatic.Command(stderr=StringIO())
        collecting.storage = HashedFiles()
        call_command(collecting, interactive=False, verbosity=0)
        noted.touch(mode=0o600)
        noted.write_text(_static_files_as_they_are(), encoding="ascii")
    except OSError as error:
        raise CannotServe(
            f"The style sheets, scripts and typefaces cannot be put into {settings.STATIC_ROOT} "
            f"({error.strerror or error}): make it writable, and room on its disk."
        ) from error


def _static_files_as_they_are() -> str:
    """A hash of what there is to collect, word for word, of what collects it, and of which files came of it, each with
    its length."""
    seen = hashlib.sha256(repr((get_version(), HashedFiles.patterns)).encode())
    for finder in get_finders():
        for path, storage in finder.list([]):
            with storage.open(path) as file:
                text = file.read()
            seen.update(repr((path, len(text))).encode() + text)
    made = Path(settings.STATIC_ROOT)
    files = sorted((str(file.relative_to(made)), file.stat().st_size) for file in made.rglob("*") if file.is_file())
    seen.update(repr(files).encode())
    return seen.hexdigest()
