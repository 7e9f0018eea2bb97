"""Starts everything with one command: the data folder, the database, the pages, and a way in for the first writer."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import socket
import subprocess
import sys
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser
from django.core.management.utils import get_random_secret_key
from granian import Granian
from granian.constants import Interfaces
from granian.log import LogLevels

from review.management.database import DatabaseRefused, prepare_database
from review.management.plain import PlainCommand
from review.people.acts import new_setup_code
from review.people.models import Person

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

EVERY_ADDRESS = {"0.0.0.0", "::"}  # noqa: S104 - recognised here, bound to only when asked for
THREADS = 8


class Command(PlainCommand):
    help = "Make the database if there is none, bring it up to date, and serve Fairhand."
    requires_system_checks: list[str] = []  # they would open the database before it is made

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="address to listen on (127.0.0.1: this machine alone)")
        parser.add_argument("--port", type=int, default=8000, help="port to listen on (8000)")
        parser.add_argument("--demo", action="store_true", help="load the demo, if the database is empty")

    def handle(self, *, host: str, port: int, demo: bool, **options: Any) -> None:
        try:
            refuse_taken_port(host, port)
            make_data_folder(settings.DATA_DIR)
            prepare_database()
        except (DatabaseRefused, CannotServe) as refusal:
            raise CommandError(str(refusal)) from refusal
        allow_hosts(host)
        collect_static_files()
        address = f"http://{address_to_show(host)}:{port}"
        if demo:
            self.prepare_demo()
        self.say(f"Fairhand is at {address} (stop it with Ctrl-C).")
        if demo:
            self.welcome_to_demo(address)
        if not Person.objects.exists():
            self.say(f"Nobody is here yet. Open {address}/setup/ and give this one-time code: {new_setup_code()}")
        run_server(host, port)

    def say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()

    def prepare_demo(self) -> None:
        """Load the demo into an empty database; of one in use it is said, before anything else, that nothing was."""
        from review.demo.load import demo_is_loaded, load_demo

        if not Person.objects.exists():
            load_demo()
        if not demo_is_loaded():
            self.say("The demo goes into an empty database only, and this one is in use: nothing was loaded.")

    def welcome_to_demo(self, address: str) -> None:
        from review.demo.load import demo_is_loaded, demo_links

        if not demo_is_loaded():
            return
        self.say("The demo is loaded. These links sign you in; they work from this machine only, for 24 hours:")
        for person, token in demo_links():
            self.say(f"  {person:<44} {address}/in/{token}/")


class CannotServe(Exception):  # noqa: N818 - it states what happened
    """The server cannot start; the message says why and what to do."""


def refuse_taken_port(host: str, port: int) -> None:
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
            raise CannotServe(
                f"Port {port} at {host} cannot be used, most likely because another program has it: "
                f"stop that program, or choose another port, such as --port {port + 1 if port < 65535 else 8001}."
            ) from None


def make_data_folder(folder: Path) -> None:
    """Make the folder, and in it the key that signs sessions, readable by its owner alone."""
    key_file: Path = settings.SECRET_KEY_FILE
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / ".writable"
        probe.touch()
        probe.unlink()
        if "SECRET_KEY" not in os.environ and not key_file.exists():
            key_file.touch(mode=0o600, exist_ok=False)
            key_file.write_text(get_random_secret_key(), encoding="ascii")
    except OSError as error:
        raise CannotServe(
            f"The folder {folder} cannot be written to ({error.strerror}): make it writable, or name another in the "
            "environment variable FAIRHAND_DATA."
        ) from error


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


def address_to_show(host: str) -> str:
    if host in EVERY_ADDRESS:
        return "127.0.0.1"
    return f"[{host}]" if ":" in host else host


def collect_static_files() -> None:
    """Collect them under names that change with their content, so that browsers may keep them for good."""
    os.environ["STATIC_HASHED"] = "1"
    command = [
        sys.executable,
        str(settings.BASE_DIR / "manage.py"),
        "collectstatic",
        "--noinput",
        "--verbosity",
        "0",
    ]
    subprocess.run(command, check=True)  # noqa: S603 - every word of it is ours


def run_server(host: str, port: int) -> None:
    """Serve in a process that starts afresh, as it does on every system, and so reads what was set meanwhile."""
    multiprocessing.set_start_method("spawn", force=True)
    Granian(
        "project.wsgi:application",
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,  # one process: the caches and the counting of sign-in tries live in it
        blocking_threads=THREADS,
        log_level=LogLevels.error,  # its warnings are for those who choose its settings
        log_access=False,  # addresses may hold a sign-in link's token
        working_dir=settings.BASE_DIR,
    ).serve()
