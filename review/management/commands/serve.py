"""Starts everything with one command: the data folder, the database, the pages, and a way in for the first writer."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.core.management.base import CommandError, CommandParser

from review.demo.load import demo_is_loaded, demo_links, load_demo
from review.letters.composing import compose
from review.mail.postman import mail_sent_meanwhile
from review.mail.site import mail_is_on
from review.management.database import DatabaseRefused, fold_in_what_came_last, prepare_database
from review.management.plain import PlainCommand, port_number
from review.people.acts import new_setup_code
from review.people.models import Person
from review.serving.readiness import (
    THIS_MACHINE,
    CannotServe,
    address_to_show,
    allow_hosts,
    collect_static_files,
    keep_for_owner,
    make_data_folder,
    once_it_answers,
    refuse_taken_port,
)
from review.serving.running import known_to_run, servers_on
from review.serving.workers import serve_until_stopped

if TYPE_CHECKING:
    from collections.abc import Iterator

IN_CLEAR = (
    "Others can reach this address, and it speaks plain HTTP: the script, the notes and every password travel in clear "
    "for anyone on the way to read. Do so only on a network that you trust. Elsewhere put a web server that speaks "
    "HTTPS in front, let that one alone reach this port, and set BEHIND_HTTPS=1: see “Security” in DEVELOPERS.md."
)
MAIL_IS_ON = "Mail goes out by {host}. Its links lead to {address}; the environment’s SITE_ADDRESS names another."
RUNS_TOO = (
    "The folder {folder} is served at {where} as well. That does no harm: the productions are the same at each. If one "
    "is enough, stop the other, by Ctrl-C in its terminal or by ending its process."
)
DEMO_FROM_HERE_ALONE = (
    "The demo's links open on this machine alone, and never through another server. One seems to stand in front, so "
    "none are printed: start it without BEHIND_HTTPS, ALLOWED_HOSTS and CSRF_TRUSTED_ORIGINS to get them."
)


class Command(PlainCommand):
    help = "Make the database if there is none, bring it up to date, and serve Fairhand."
    requires_system_checks: list[str] = []  # they would open the database before it is made

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="address to listen on (127.0.0.1: this machine alone)")
        parser.add_argument(
            "--port", type=port_number, default=settings.PORT, help=f"port to listen on ({settings.PORT})"
        )
        parser.add_argument("--demo", action="store_true", help="load the demo, if the database is empty")

    def handle(self, *, host: str, port: int, demo: bool, **options: Any) -> None:
        seems_behind_another = has_a_server_in_front()
        if not settings.BEHIND_HTTPS:
            lead_letters_to(f"http://{settings.SITE_NAME or address_to_show(host)}:{port}")
        try:
            refuse_taken_port(host, port, servers_on(settings.DATA_DIR))
            make_data_folder(settings.DATA_DIR)
            prepare_database()
            keep_for_owner(settings.DATA_DIR)
            allow_hosts(host)
            collect_static_files()
        except (DatabaseRefused, CannotServe) as refusal:
            raise CommandError(str(refusal)) from refusal
        if demo:
            self.prepare_demo()
        here = known_to_run(settings.DATA_DIR, port, address_of(host, port))
        try:
            with mail_sent_meanwhile(compose), here as others:  # not for the letter that may be under way at the end
                welcome = list(self.welcome(host, port, others, demo=demo, seems_behind_another=seems_behind_another))
                once_it_answers(host, port, lambda: self.say("\n".join(welcome)))
                serve_until_stopped(host, port)
        finally:
            fold_in_what_came_last()

    def say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()

    def prepare_demo(self) -> None:
        """Load the demo into an empty database; of one in use it is said, before anything else, that nothing was."""
        if not Person.objects.exists():
            load_demo()
        if not demo_is_loaded():
            self.say("The demo goes into an empty database only, and this one is in use: nothing was loaded.")

    def welcome(
        self, host: str, port: int, others: list[str], *, demo: bool, seems_behind_another: bool
    ) -> Iterator[str]:
        """What is said to whoever started it, line by line, once their browser would find it. `others` says where
        servers are that run on the same folder."""
        address = address_of(host, port)
        yield f"Fairhand is at {address} (stop it with Ctrl-C)."
        if others:
            yield RUNS_TOO.format(folder=settings.DATA_DIR, where=", and at ".join(others))
        if host not in THIS_MACHINE and not settings.BEHIND_HTTPS:
            yield IN_CLEAR
        if mail_is_on():
            yield MAIL_IS_ON.format(host=settings.EMAIL_HOST, address=settings.SITE_ADDRESS)
        if demo and demo_is_loaded():
            yield from welcome_to_demo(address, seems_behind_another=seems_behind_another)
        if not Person.objects.exists():
            yield f"Nobody is here yet. Open {address}/setup/ and give this one-time code: {new_setup_code()}"


def address_of(host: str, port: int) -> str:
    return f"http://{address_to_show(host)}:{port}"


def welcome_to_demo(address: str, *, seems_behind_another: bool) -> Iterator[str]:
    if seems_behind_another:
        yield DEMO_FROM_HERE_ALONE
        return
    yield "The demo is loaded. These links sign you in; they work from this machine only, for 24 hours:"
    for person, token in demo_links():
        yield f"  {person:<44} {address}/in/{token}/"


def lead_letters_to(address: str) -> None:
    """Let links in mail, and those that workers make, lead to this address, unless the environment names another."""
    settings.SITE_ADDRESS = os.environ["SITE_ADDRESS"] = os.environ.get("SITE_ADDRESS") or address


def has_a_server_in_front() -> bool:
    """Whether the environment says something that is only so behind another server."""
    return settings.BEHIND_HTTPS or any(os.environ.get(name) for name in ("ALLOWED_HOSTS", "CSRF_TRUSTED_ORIGINS"))
