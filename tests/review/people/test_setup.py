"""Setting up a new server's first writer."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier
from typing import TYPE_CHECKING, Any

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from review.access import Role
from review.log import Act
from review.people import acts
from review.people.models import Member, Person, SetupCode
from review.productions.models import Production
from tests.factories import make_person

if TYPE_CHECKING:
    from django.test import Client

pytestmark = pytest.mark.django_db
ADDRESS = "/setup/"


def filled_in(code: str, **fields: str) -> dict[str, str]:
    return {
        "code": code,
        "name": "Ada Wren",
        "email": "Ada@Example.org",
        "password": "mended nets by lamp",
        "title": "Slack Water",
    } | fields


def wrong(code: str) -> str:
    """A code of the right form that is not this one."""
    return code[:-1] + ("A" if code[-1] != "A" else "B")


@pytest.fixture
def code() -> str:
    return acts.new_setup_code()


def test_the_first_page_of_an_empty_server_leads_there(client: Client) -> None:
    assert client.get("/").headers["Location"] == ADDRESS


def test_the_right_code_makes_the_first_writer_and_signs_them_in(client: Client, code: str) -> None:
    response = client.post(ADDRESS, filled_in(code))
    member = Member.objects.get()
    assert (member.name, member.role, member.production.name) == ("Ada Wren", Role.WRITER, "Slack Water")
    assert member.person.email == "ada@example.org"
    assert member.person.starts_productions
    assert member.person.check_password("mended nets by lamp")
    assert response.headers["Location"] == reverse("draft-upload", args=[member.production.public_id])
    assert client.get(response.headers["Location"]).status_code == 200
    assert Act.objects.get().verb == Act.Verb.STARTED_PRODUCTION


def test_small_letters_spaces_and_missing_dashes_do_not_matter(client: Client, code: str) -> None:
    assert client.post(ADDRESS, filled_in(f" {code.replace('-', ' ').lower()} ")).status_code == 302


def test_the_code_is_kept_as_a_hash_alone(code: str) -> None:
    kept = SetupCode.objects.get()
    assert code not in str(vars(kept))
    assert code.replace("-", "") not in str(vars(kept))


def test_a_wrong_code_lets_nobody_in_and_is_counted_though_the_try_fails(client: Client, code: str) -> None:
    response = client.post(ADDRESS, filled_in(wrong(code)))
    assert response.status_code == 422
    assert "That is not the code." in response.text
    assert "Slack Water" in response.text
    assert "mended nets" not in response.text
    assert not Person.objects.exists()
    assert SetupCode.objects.get().wrong_tries == 1


def test_too_many_wrong_tries_make_even_the_right_code_void(client: Client, code: str) -> None:
    for _ in range(SetupCode.MOST_TRIES):
        client.post(ADDRESS, filled_in(wrong(code)))
    response = client.post(ADDRESS, filled_in(code))
    assert response.status_code == 422
    assert "no longer counts" in response.text
    assert not Person.objects.exists()


def spend(client: Client, code: str) -> str:
    """Give a wrong code until the right one counts no longer; the page after that."""
    for _ in range(SetupCode.MOST_TRIES):
        client.post(ADDRESS, filled_in(wrong(code)))
    return client.post(ADDRESS, filled_in(code)).text


def ask_for_another(client: Client) -> str:
    return client.post(reverse("setup-code"), follow=True).text


def test_after_ten_wrong_tries_another_code_is_asked_for_and_printed_in_the_terminal_alone(
    client: Client, code: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reverse("setup-code") in spend(client, code)
    SetupCode.objects.update(created_at=timezone.now() - timedelta(minutes=2))
    page = ask_for_another(client)
    printed = re.search(r"asked for: (\S+)", capsys.readouterr().out)
    assert printed
    assert printed.group(1) not in page
    assert "in its last line" in page
    assert client.post(ADDRESS, filled_in(printed.group(1))).status_code == 302


def test_a_code_that_counts_is_replaced_for_nobody(
    client: Client, code: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert reverse("setup-code") not in client.get(ADDRESS).text
    assert "still counts" in ask_for_another(client)
    assert not capsys.readouterr().out
    assert client.post(ADDRESS, filled_in(code)).status_code == 302


def test_codes_are_asked_for_once_a_minute(client: Client, code: str, capsys: pytest.CaptureFixture[str]) -> None:
    spend(client, code)
    assert "Wait a minute" in ask_for_another(client)
    assert not capsys.readouterr().out


def test_no_code_is_printed_once_somebody_is_here(client: Client, capsys: pytest.CaptureFixture[str]) -> None:
    Person.objects.create_user("ada@example.org", "Ada")
    client.post(reverse("setup-code"))
    assert not capsys.readouterr().out
    assert not SetupCode.objects.exists()


def test_one_try_fewer_leaves_it_open(client: Client, code: str) -> None:
    for _ in range(SetupCode.MOST_TRIES - 1):
        client.post(ADDRESS, filled_in(wrong(code)))
    assert client.post(ADDRESS, filled_in(code)).status_code == 302


def test_a_new_code_makes_the_one_before_it_void(client: Client, code: str) -> None:
    newer = acts.new_setup_code()
    assert client.post(ADDRESS, filled_in(code)).status_code == 422
    assert client.post(ADDRESS, filled_in(newer)).status_code == 302


def test_a_server_that_printed_no_code_takes_none(client: Client) -> None:
    assert client.post(ADDRESS, filled_in("AAAA-BBBB-CCCC")).status_code == 422
    assert not Person.objects.exists()


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("code", "", "Give the code from the terminal."),
        ("name", "  ", "Give your name."),
        ("email", "ada", "That is not a whole e-mail address."),
        ("password", "short", "Ten characters or more, please."),
        ("password", "password1234", "too common"),
        ("title", "", "Say what the production is called."),
    ],
)
def test_a_form_that_is_not_right_says_so_at_the_field(
    client: Client, code: str, field: str, value: str, sentence: str
) -> None:
    response = client.post(ADDRESS, filled_in(code) | {field: value})
    assert response.status_code == 422
    assert sentence in response.text
    assert f'id="id_{field}_error"' in response.text
    assert not Person.objects.exists()


def test_a_wrong_code_and_a_short_password_are_both_said_and_the_try_counts(client: Client, code: str) -> None:
    response = client.post(ADDRESS, filled_in(wrong(code), password="short"))
    assert "That is not the code." in response.text
    assert "Ten characters or more, please." in response.text
    assert SetupCode.objects.get().wrong_tries == 1


def test_once_somebody_is_here_it_leads_to_signing_in_whatever_the_code(client: Client, code: str) -> None:
    make_person("Bo Finch")
    for response in (client.get(ADDRESS), client.post(ADDRESS, filled_in(code))):
        assert response.headers["Location"] == reverse("account_login")
    with pytest.raises(acts.Refused, match="set up already"):
        acts.set_up_first_writer(code, "Ada", "ada@example.org", "mended nets by lamp", "Slack Water")
    assert Person.objects.count() == 1


def test_sending_it_twice_makes_one_writer_and_one_production(client: Client, code: str) -> None:
    for _ in range(2):
        client.post(ADDRESS, filled_in(code))
    assert (Person.objects.count(), Production.objects.count()) == (1, 1)


def test_a_setup_that_breaks_halfway_leaves_the_code_good(code: str) -> None:
    with pytest.raises(ValueError, match="breaks"):
        acts.set_up_first_writer(code, "Ada", "ada@example.org", "mended nets by lamp", _Breaks("Slack Water"))
    assert not Person.objects.exists()
    assert SetupCode.objects.get().used_at is None


class _Breaks(str):
    __slots__ = ()

    def strip(self, chars: Any = None) -> str:
        raise ValueError("This title breaks.")


@pytest.mark.django_db(transaction=True)
def test_of_two_setups_in_the_same_moment_one_is_the_first(postgres_url: str) -> None:
    code, at_once = acts.new_setup_code(), Barrier(2)

    def set_up(name: str) -> str:
        try:
            at_once.wait(timeout=10)
            acts.set_up_first_writer(code, name, f"{name}@example.org", "mended nets by lamp", name)
        except acts.Refused:
            return "refused"
        else:
            return "set up"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(set_up, ["ada", "bo"])) == ["refused", "set up"]
    assert Person.objects.count() == 1
