"""The ways in, the productions, a home and the People screen in a real browser: for everyone, by keyboard, by touch."""

from __future__ import annotations

import re
import uuid
from functools import partial
from typing import TYPE_CHECKING, Any

import pytest
from django.core.cache import cache
from django.urls import reverse
from playwright.sync_api import expect

from review.access import Role
from review.decisions.acts import decide
from review.notes.models import NoteKind
from review.people import acts
from review.people.models import Invitation, Person
from review.productions.models import Production
from tests.browser.conftest import TOUCH
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, in_looks, shuts_nobody_out
from tests.factories import make_member, make_note, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

    from review.drafts.models import Draft
    from review.people.models import Member

    Visit = Callable[..., Page]


@pytest.fixture
def stranger(visit: Visit) -> Callable[..., Page]:
    """Opens the site signed out."""
    cache.clear()
    return partial(visit, None)


def people_of(member: Member) -> str:
    return reverse("people", args=[member.production.public_id])


def invitation_from(writer: Member, name: str = "Sunniva Grey") -> str:
    _, token = acts.invite(writer, name, "crew", "lighting", uuid.uuid4())
    return reverse("join", args=[token])


def refuse(page: Page) -> None:
    """Send the form of a page as it is, past the browser's own checks."""
    page.locator("main form").first.evaluate("(form) => { form.noValidate = true; }")
    page.locator("main form button[type=submit]").first.click()
    expect(page.locator(".field-errors").first).to_be_visible()


def test_the_ways_in_shut_nobody_out(stranger: Callable[..., Page], writer: Member) -> None:
    page = stranger(invitation_from(writer), **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    refuse(page)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    for address in ("/join/nonsense/", "/nowhere/", "/account/password/forgotten/"):
        page.goto(address)
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.goto("/account/sign-in/")
    refuse(page)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)


@in_looks(*DESK_BY_DAY_PHONE_BY_NIGHT)
def test_the_setup_shuts_nobody_out_and_sets_up(
    transactional_db: None, stranger: Callable[..., Page], look: dict[str, Any]
) -> None:
    code = acts.new_setup_code()
    page = stranger("/", **look)
    shuts_nobody_out(page)
    refuse(page)
    shuts_nobody_out(page)
    page.get_by_label("The one-time code").fill(code)
    page.get_by_label("Your name").fill("Ada Wren")
    page.get_by_label("Your e-mail address").fill("ada@example.org")
    page.get_by_label("A password").fill("mended nets by lamp")
    page.get_by_label("The production").fill("Slack Water")
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/drafts/new/")
    assert Production.objects.get().name == "Slack Water"


def test_the_writer_s_screens_shut_nobody_out(visit: Visit, writer: Member, crew: Member) -> None:
    Person.objects.filter(pk=writer.person.pk).update(starts_productions=True)
    invitation_from(writer, "Sunnivagrey" * 7)
    home = reverse("home", args=[writer.production.public_id])
    page = visit(writer, home, **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    for address in ("/", "/account/sign-out/", people_of(writer)):
        page.goto(address)
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.locator(".people-more summary").first.click()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.get_by_role("button", name="Make a sign-in link").click()
    expect(page.get_by_role("textbox", name="Link for Bo Finch")).to_be_visible()
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)


def test_a_home_with_much_to_do_shuts_nobody_out(visit: Visit, writer: Member, crew: Member, draft: Draft) -> None:
    for kind in NoteKind:
        make_note(crew, draft, kind=kind)
    for outcome in ("accepted", "declined", "parked"):
        decide(writer, make_note(crew, draft, 9), outcome, "Because.", 0, uuid.uuid4())
    for member in (writer, crew):
        page = visit(member, reverse("home", args=[writer.production.public_id]), **LOOKED_AT)
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page = visit(crew, people_of(crew), **LOOKED_AT)
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
    page.goto(reverse("draft-upload", args=[writer.production.public_id]))  # forbidden
    shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)


def test_an_invitation_made_by_keyboard_is_copied_by_keyboard(visit: Visit, writer: Member) -> None:
    page = visit(writer, people_of(writer))
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_label("Name").focus()
    page.keyboard.type("Sunniva Grey")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.type("Sound")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    link = page.get_by_role("textbox", name="Link for Sunniva Grey")
    expect(link).to_be_focused()
    expect(page.get_by_role("button", name="Copy the link for Sunniva Grey")).to_be_visible()  # with its script
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Copied. Paste it where you write to them.")).to_be_visible()
    assert page.evaluate("navigator.clipboard.readText()") == link.input_value()
    assert Invitation.objects.get().department == "sound"


def test_where_copying_is_not_allowed_the_link_is_selected_to_be_copied_by_hand(visit: Visit, writer: Member) -> None:
    page = visit(writer, people_of(writer))
    page.get_by_label("Name").fill("Sunniva Grey")
    page.get_by_label("Department").select_option("sound")
    page.evaluate("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    page.get_by_role("button", name="Make the link").click()
    page.evaluate("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    page.get_by_role("button", name="Copy the link").click()
    expect(page.get_by_text("It is selected: copy it with your keyboard or the menu.")).to_be_visible()
    assert page.evaluate("getSelection().toString() || document.activeElement.value").startswith("http")


def test_without_javascript_the_link_is_there_to_be_copied_by_hand(visit: Visit, writer: Member) -> None:
    page = visit(writer, people_of(writer), java_script_enabled=False)
    page.get_by_label("Name").fill("Sunniva Grey")
    page.get_by_label("Department").select_option("sound")
    page.get_by_role("button", name="Make the link").click()
    expect(page.get_by_role("textbox", name="Link for Sunniva Grey")).to_have_value(re.compile("/join/"))
    expect(page.get_by_role("button", name="Copy the link")).to_be_hidden()


def test_a_double_click_makes_one_invitation_and_shows_its_link(visit: Visit, writer: Member) -> None:
    page = visit(writer, people_of(writer))
    page.get_by_label("Name").fill("Sunniva Grey")
    page.get_by_label("Department").select_option("sound")
    page.get_by_role("button", name="Make the link").dblclick()
    expect(page.get_by_role("textbox", name="Link for Sunniva Grey")).to_be_visible()
    assert Invitation.objects.count() == 1


def test_someone_joins_on_a_phone_and_starts_with_the_script(
    stranger: Callable[..., Page], writer: Member, draft: Draft
) -> None:
    page = stranger(invitation_from(writer), **TOUCH)
    expect(page.get_by_label("Your name")).to_have_value("Sunniva Grey")
    page.get_by_label("Your e-mail address").fill("sunniva@example.org")
    page.get_by_role("button", name="Join").dblclick()
    expect(page.get_by_text("You are in, Sunniva Grey.")).to_be_visible()
    page.get_by_role("link", name="Read the script").tap()
    expect(page.locator("#L6")).to_be_visible()


def test_what_is_wrong_with_a_field_is_told_with_the_field(stranger: Callable[..., Page], writer: Member) -> None:
    page = stranger(invitation_from(writer))
    page.get_by_label("Your e-mail address").fill("not whole")
    refuse(page)
    field = page.get_by_label("Your e-mail address")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(
        "To sign in with. Nobody else on the production sees it. That is not a whole e-mail address."
    )


def test_a_member_is_removed_from_the_keyboard(visit: Visit, writer: Member, crew: Member) -> None:
    page = visit(writer, people_of(writer))
    page.locator(".people-more summary").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Remove Bo Finch").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Bo Finch can no longer open this production.")).to_be_visible()
    crew.refresh_from_db()
    assert crew.removed_at is not None


def test_someone_signed_in_joins_by_one_button(visit: Visit, writer: Member, crew: Member) -> None:
    other = make_member(make_production("High Water"), Role.WRITER, name="Odd Moe")
    page = visit(crew, invitation_from(other, "Bo"))
    page.get_by_role("button", name="Join as Bo Finch").click()
    expect(page.get_by_role("heading", name="High Water")).to_be_visible()
