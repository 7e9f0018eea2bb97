"""What every answer tells the browser not to do."""

from __future__ import annotations

import runpy
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from bs4 import BeautifulSoup
from django.test import Client
from django.urls import reverse

from review.people import acts
from tests.factories import make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from review.drafts.models import Draft
    from review.people.models import Member

    SignIn = Callable[[Member], Client]

pytestmark = pytest.mark.django_db

# The directives and their meaning are those of the W3C's Content Security Policy Level 3.
SHUT_BY_DEFAULT = {"default-src": "'none'", "base-uri": "'none'", "frame-ancestors": "'none'", "form-action": "'self'"}


def policy(header: str) -> dict[str, str]:
    return dict(part.strip().split(" ", 1) for part in header.split(";") if part.strip())


@pytest.mark.parametrize("address", ["/", "/account/sign-in/", "/nowhere/", "/healthy/", "/join/x/", "/in/x/"])
def test_every_answer_shuts_everything_but_our_own_files(client: Client, address: str) -> None:
    headers = client.get(address).headers
    directives = policy(headers["Content-Security-Policy"])
    assert directives | SHUT_BY_DEFAULT == directives
    assert directives["script-src"] == directives["style-src"] == "'self'"
    assert "unsafe" not in headers["Content-Security-Policy"]
    assert "data:" not in headers["Content-Security-Policy"]
    assert "*" not in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Referrer-Policy"] in {"same-origin", "strict-origin"}
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"


@pytest.mark.parametrize("name", ["home", "people", "script-current", "notes", "changes", "voices-current", "drafts"])
def test_no_page_carries_a_script_or_a_style_within_it(
    signed_in: SignIn, writer: Member, crew: Member, draft: Draft, name: str
) -> None:
    make_note(crew, draft)
    response = signed_in(writer).get(reverse(name, args=[writer.production.public_id]), follow=True)
    assert response.status_code == 200
    page = BeautifulSoup(response.text, "html.parser")
    assert [script for script in page.find_all("script") if not script.get("src")] == []
    assert page.find_all("style") == []
    tags = page.find_all(True)
    assert [tag.name for tag in tags if any(name == "style" or name.startswith("on") for name in tag.attrs)] == []


def test_pages_that_hold_a_secret_are_kept_by_no_cache_and_their_address_is_told_to_nobody(
    client: Client, signed_in: SignIn, writer: Member, crew: Member
) -> None:
    _, token = acts.invite(writer, "Ida", "crew", "art", uuid.uuid4())
    link = acts.make_sign_in_link(writer, crew)
    production = writer.production.public_id
    invitation = {"form_id": str(uuid.uuid4()), "name": "Ida", "role": "crew", "department": "art"}
    answers = [
        client.get(reverse("join", args=[token])),
        client.get(reverse("join", args=["nonsense"])),
        client.get(reverse("sign-in-link", args=[link])),
        client.post(reverse("sign-in-link", args=["nonsense"])),
        signed_in(writer).post(reverse("invite", args=[production]), invitation),
        signed_in(writer).post(reverse("member-sign-in-link", args=[production, crew.public_id])),
    ]
    for answer in answers:
        assert {"no-store", "private"} <= set(answer.headers["Cache-Control"].replace(",", " ").split())
        assert answer.headers["Referrer-Policy"] == "strict-origin"


def test_a_downloaded_draft_is_a_file_and_kept_by_no_cache(signed_in: SignIn, writer: Member, draft: Draft) -> None:
    headers = signed_in(writer).get(reverse("draft-download", args=[writer.production.public_id, 1])).headers
    assert headers["Content-Disposition"].startswith("attachment")
    assert headers["Content-Type"].startswith("text/plain")
    assert "no-store" in headers["Cache-Control"]


def test_the_session_s_cookie_is_out_of_reach_of_scripts_and_other_sites(
    client: Client, writer: Member, crew: Member
) -> None:
    client.post(reverse("sign-in-link", args=[acts.make_sign_in_link(writer, crew)]))
    cookie = client.cookies["sessionid"]
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"


@pytest.mark.parametrize("name", ["home", "people", "script-current", "notes", "changes", "voices-current", "drafts"])
def test_a_page_with_something_private_on_it_is_kept_by_nobody_or_asked_after(
    signed_in: SignIn, writer: Member, draft: Draft, name: str
) -> None:
    """Its caching is private, and the script's pages alone, which are not sent again, are kept at all, and never shown
    without asking the server: RFC 9111, 5.2.2."""
    address = reverse(name, args=[writer.production.public_id])
    response = signed_in(writer).get(address, follow=True)
    said = set(response.headers["Cache-Control"].replace(",", " ").split())
    assert "private" in said
    assert said & {"no-store", "no-cache"} == {"no-cache" if name == "script-current" else "no-store"}


@pytest.mark.parametrize("address", ["/", "/account/sign-in/", "/nowhere/", "/p/x/"])
def test_whatever_a_view_says_nothing_of_is_kept_by_nobody(client: Client, address: str) -> None:
    assert "no-store" in client.get(address).headers["Cache-Control"]


@pytest.fixture
def behind_https(settings: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """The settings as they are when the environment says that a server in front speaks HTTPS."""
    monkeypatch.setenv("BEHIND_HTTPS", "1")
    told = runpy.run_path(str(settings.BASE_DIR / "project" / "settings.py"))
    for name in ("BEHIND_HTTPS", "COOKIES_OF_THIS_HOST", "SECURE_PROXY_SSL_HEADER", "SECURE_HSTS_SECONDS"):
        setattr(settings, name, told[name])
    for cookie in ("SESSION", "CSRF"):
        setattr(settings, f"{cookie}_COOKIE_NAME", told[f"{cookie}_COOKIE_NAME"])
        setattr(settings, f"{cookie}_COOKIE_SECURE", told[f"{cookie}_COOKIE_SECURE"])


@pytest.mark.usefixtures("behind_https")
def test_behind_https_every_cookie_is_this_host_s_alone_and_browsers_stay_with_https_for_a_year(crew: Member) -> None:
    """The prefix is that of RFC 6265bis, 4.1.3.2: Secure, Path=/ and no Domain, or a browser does not take it."""
    crew.person.set_password("mended nets by lamp")
    crew.person.save()
    client = Client(headers={"X-Forwarded-Proto": "https"})
    client.get("/account/sign-in/")
    response = client.post("/account/sign-in/", {"login": crew.person.email, "password": "mended nets by lamp"})
    assert {"__Host-sessionid", "__Host-csrftoken", f"__Host-device-{crew.person.public_id}"} <= set(client.cookies)
    for name, cookie in client.cookies.items():
        assert (name[:7], cookie["secure"], cookie["path"], cookie["domain"]) == ("__Host-", True, "/", "")
    assert response.headers["Strict-Transport-Security"] == f"max-age={365 * 24 * 60 * 60}"


def test_a_host_that_is_not_ours_gets_no_links_made_in_its_name(writer: Member) -> None:
    client = Client(headers={"host": "evil.example.com"}, raise_request_exception=False)
    client.force_login(writer.person, backend="allauth.account.auth_backends.AuthenticationBackend")
    invitation = {"form_id": str(uuid.uuid4()), "name": "Ida", "role": "crew", "department": "art"}
    response = client.post(reverse("invite", args=[writer.production.public_id]), invitation)
    assert response.status_code == 400
    assert "evil.example.com" not in response.text


def test_a_host_named_by_a_server_in_between_is_not_believed(signed_in: SignIn, writer: Member) -> None:
    invitation = {"form_id": str(uuid.uuid4()), "name": "Ida", "role": "crew", "department": "art"}
    address = reverse("invite", args=[writer.production.public_id])
    response = signed_in(writer).post(address, invitation, headers={"X-Forwarded-Host": "evil.example.com"})
    assert "http://testserver/join/" in response.text
    assert "evil.example.com" not in response.text


def test_at_sign_out_the_browser_drops_what_it_was_allowed_to_keep(signed_in: SignIn, crew: Member) -> None:
    response = signed_in(crew).post(reverse("account_logout"))
    assert response.headers["Clear-Site-Data"] == '"cache", "storage"'
