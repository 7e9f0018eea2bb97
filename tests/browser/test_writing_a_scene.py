"""A scene written in the browser: saved as it is typed, kept where it could not be, never over another's words."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from review.access import Role
from review.people.models import Department
from review.rewriting.acts import begin_working
from review.rewriting.scene_acts import save_scene
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, shuts_nobody_out
from tests.factories import make_draft, make_member, make_note

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Locator, Page, Route

    from review.people.models import Member
    from review.rewriting.models import WorkingScene

    Visit = Callable[..., Page]

HEADING = "EXT. PIER - DAY\n\n"
NEXT = "INT. HUT - NIGHT\n\nDark.\n"
TILL_SAVED_MS = 1000
TILL_AT_REST_MS = 3000


@pytest.fixture
def scene(writer: Member) -> WorkingScene:
    draft = make_draft(writer, f"{HEADING}Fog.\n\n{NEXT}")
    return begin_working(writer, draft, uuid.uuid4()).scenes.get(position=1)


@pytest.fixture
def other_writer(writer: Member) -> Member:
    return make_member(writer.production, Role.WRITER, Department.WRITING, "Idris Fell")


def address(scene: WorkingScene) -> str:
    return reverse("working-scene", args=[scene.working.production.public_id, scene.public_id])


def text_of(page: Page) -> Locator:
    return page.get_by_label("The text, as Fountain")


def state_of(page: Page) -> Locator:
    return page.locator("[data-state]")


def pause_typing(page: Page) -> None:
    """Put the page's clock forward by as long as nothing is typed before what was typed is saved."""
    page.clock.fast_forward(TILL_SAVED_MS)


def stored(scene: WorkingScene) -> str:
    scene.refresh_from_db()
    return scene.text.removeprefix(HEADING).strip()


def save_meanwhile(by: Member, scene: WorkingScene, words: str) -> None:
    scene.refresh_from_db()
    save_scene(by, scene, f"{HEADING}{words}\n\n", scene.version, uuid.uuid4())


def test_what_is_typed_is_saved_and_laid_out_by_itself(visit: Visit, writer: Member, scene: WorkingScene) -> None:
    page = visit(writer, address(scene), own_clock=True)
    text_of(page).fill(f"{HEADING}Fog, and a bell.\n\n")
    expect(state_of(page)).to_have_text("Not saved yet")
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    expect(page.locator("#scene-beside .paper")).to_contain_text("Fog, and a bell.")
    assert stored(scene) == "Fog, and a bell."
    page.reload()
    expect(text_of(page)).to_have_value(f"{HEADING}Fog, and a bell.\n\n")
    expect(page.get_by_text("Words of yours that were not saved are back.")).to_be_hidden()


def type_before_the_script_runs(page: Page, scene: WorkingScene, words: str) -> None:
    """The page's script is held until the words stand in the field; it has run when this is done."""
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/scene.js*", hold)
    with page.expect_request("**/scene.js*"):
        page.goto(address(scene), wait_until="commit")
    text_of(page).fill(words)
    held.pop().continue_()
    page.unroute("**/scene.js*")
    page.wait_for_load_state()


def test_what_is_typed_before_the_script_runs_is_saved_without_another_key(
    visit: Visit, writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, "about:blank", own_clock=True)
    type_before_the_script_runs(page, scene, f"{HEADING}Fog, and a bell.\n\n")
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    assert stored(scene) == "Fog, and a bell."


def test_words_kept_before_others_were_typed_early_come_back_the_next_time(
    visit: Visit, writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene), own_clock=True)
    page.context.set_offline(True)
    text_of(page).fill(f"{HEADING}Hail.\n\n")
    pause_typing(page)
    expect(page.get_by_text("Your words are kept on this device.")).to_be_visible()
    page.goto("about:blank")
    page.context.set_offline(False)
    type_before_the_script_runs(page, scene, f"{HEADING}Sleet.\n\n")
    expect(page.get_by_text("Other words of yours that were not saved are kept.")).to_be_visible()
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    assert stored(scene) == "Sleet."
    page.goto(address(scene))
    pause_typing(page)
    expect(page.get_by_text("You saved this scene meanwhile on another page")).to_be_visible()
    expect(text_of(page)).to_have_value(f"{HEADING}Hail.\n\n")


def test_a_second_heading_stays_until_it_is_saved_by_the_button(
    visit: Visit, writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene))
    text_of(page).fill(f"{HEADING}Fog.\n\nINT. STORE - DAY\n\nRope.\n\n")
    expect(page.get_by_text("This holds 1 more heading.")).to_be_visible()
    page.get_by_role("button", name="Save", exact=True).click()
    expect(text_of(page)).to_have_value(f"{HEADING}Fog.\n\n")
    page.get_by_role("link", name="Scene after").click()
    expect(text_of(page)).to_have_value("INT. STORE - DAY\n\nRope.\n\n")


def test_without_a_connection_the_words_are_kept_and_saved_later(
    visit: Visit, writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene), own_clock=True)
    page.context.set_offline(True)
    text_of(page).fill(f"{HEADING}Sleet.\n\n")
    pause_typing(page)
    expect(page.get_by_text("Your words are kept on this device.")).to_be_visible()
    page.context.set_offline(False)
    page.reload()
    expect(page.get_by_text("Words of yours that were not saved are back.")).to_be_visible()
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    assert stored(scene) == "Sleet."


def test_a_second_tab_is_told_and_shown_both_texts(visit: Visit, writer: Member, scene: WorkingScene) -> None:
    first, second = (visit(writer, address(scene), own_clock=True) for _ in range(2))
    text_of(first).fill(f"{HEADING}Sleet.\n\n")
    pause_typing(first)
    expect(state_of(first)).to_contain_text("Saved ")
    text_of(second).fill(f"{HEADING}Snow.\n\n")
    pause_typing(second)
    expect(second.get_by_text("You saved this scene meanwhile on another page")).to_be_visible()
    expect(second.locator(".meanwhile-texts ins").first).to_contain_text("Snow")
    assert stored(scene) == "Sleet."
    second.get_by_role("button", name="Save this page’s text").click()
    expect(second.get_by_text("You saved this scene meanwhile")).to_be_hidden()
    assert stored(scene) == "Snow."
    assert "Sleet." in "".join(scene.texts.values_list("text", flat=True))


def test_two_writers_lines_are_put_together_where_they_differ(
    visit: Visit, writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    save_meanwhile(writer, scene, "Fog.\n\nA bell.\n\nGulls.")
    page = visit(writer, address(scene), own_clock=True)
    save_meanwhile(other_writer, scene, "Fog.\n\nA bell.\n\nNo gulls.")
    text_of(page).fill(f"{HEADING}Haar.\n\nA bell.\n\nGulls.\n\n")
    pause_typing(page)
    page.get_by_role("button", name="Take the two together").click()
    expect(text_of(page)).to_have_value(f"{HEADING}Haar.\n\nA bell.\n\nNo gulls.\n\n")
    expect(page.get_by_text("Words of yours that were not saved are back.")).to_be_hidden()


def test_words_kept_from_before_another_saved_are_not_saved_over_them(
    visit: Visit, writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene), own_clock=True)
    page.context.set_offline(True)
    text_of(page).fill(f"{HEADING}Mine.\n\n")
    pause_typing(page)
    expect(page.get_by_text("Your words are kept on this device.")).to_be_visible()
    save_meanwhile(other_writer, scene, "Theirs.")
    page.context.set_offline(False)
    page.reload()
    pause_typing(page)
    expect(page.get_by_text("Idris Fell saved this scene meanwhile")).to_be_visible()
    assert stored(scene) == "Theirs."
    page.get_by_role("button", name="Let theirs stand").click()
    expect(text_of(page)).to_have_value(f"{HEADING}Theirs.\n\n")
    assert "Mine." in "".join(scene.texts.values_list("text", flat=True))


def test_words_sent_by_a_button_that_did_not_arrive_are_kept(visit: Visit, writer: Member, scene: WorkingScene) -> None:
    page = visit(writer, address(scene), own_clock=True)
    page.context.set_offline(True)
    text_of(page).fill(f"{HEADING}Hail.\n\n")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url("chrome-error://**")
    page.context.set_offline(False)
    page.goto(address(scene))
    expect(text_of(page)).to_have_value(f"{HEADING}Hail.\n\n")
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    assert stored(scene) == "Hail."


def test_an_earlier_text_is_taken_back(visit: Visit, writer: Member, scene: WorkingScene) -> None:
    save_meanwhile(writer, scene, "Haar.")
    page = visit(writer, address(scene))
    page.get_by_text("Earlier texts of this scene").click()
    page.locator(".earlier-texts li details summary").first.click()
    page.get_by_role("button", name="Let it read so again").click()
    expect(text_of(page)).to_have_value(f"{HEADING}Fog.\n\n")
    assert stored(scene) == "Fog."


def test_it_is_all_done_by_keyboard(visit: Visit, writer: Member, scene: WorkingScene) -> None:
    page = visit(writer, address(scene))
    text_of(page).focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("A bell.")
    page.keyboard.press("Control+s")
    expect(state_of(page)).to_contain_text("Saved ")
    assert stored(scene) == "Fog.\n\nA bell."
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Save", exact=True)).to_be_focused()


def test_without_javascript_it_is_saved_by_the_button_and_conflicts_are_shown(
    visit: Visit, writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene), java_script_enabled=False)
    text_of(page).fill(f"{HEADING}Haar.\n\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(text_of(page)).to_have_value(f"{HEADING}Haar.\n\n")
    assert stored(scene) == "Haar."
    save_meanwhile(other_writer, scene, "Sleet.")
    text_of(page).fill(f"{HEADING}Snow.\n\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Idris Fell saved this scene meanwhile")).to_be_visible()
    expect(text_of(page)).to_have_value(f"{HEADING}Snow.\n\n")
    page.get_by_role("button", name="Let theirs stand").click()
    expect(text_of(page)).to_have_value(f"{HEADING}Sleet.\n\n")


def test_the_notes_of_the_scene_stand_beside_it(
    visit: Visit, writer: Member, crew: Member, scene: WorkingScene
) -> None:
    make_note(crew, scene.working.base, 3, body="How thick is it?")
    make_note(crew, scene.working.base, 7, body="How dark is it?")
    page = visit(writer, address(scene))
    expect(page.get_by_text("How thick is it?")).to_be_visible()
    expect(page.get_by_text("How dark is it?")).to_have_count(0)


def test_a_blank_line_at_the_top_is_not_lost_on_the_way(visit: Visit, writer: Member) -> None:
    """A browser leaves out the first line end in a field:
    https://html.spec.whatwg.org/multipage/syntax.html#element-restrictions"""
    working = begin_working(writer, make_draft(writer, f"\n\nOver black.\n\n{HEADING}Fog.\n"), uuid.uuid4())
    lead = working.scenes.get(position=0)
    page = visit(writer, address(lead))
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.get_by_text("Saved.", exact=True)).to_be_visible()
    lead.refresh_from_db()
    assert (lead.text, lead.version) == ("\n\nOver black.\n\n", 1)


def test_the_screens_fit_and_can_be_used_by_everyone(
    visit: Visit, writer: Member, crew: Member, scene: WorkingScene
) -> None:
    make_note(crew, scene.working.base, 3, body="How thick is it?")
    production = scene.working.production.public_id
    page = visit(writer, reverse("home", args=[production]), **LOOKED_AT)
    for one in (address(scene), reverse("working", args=[production])):
        page.goto(one)
        for arrange in page.locator(".working-more summary").all()[:2]:
            arrange.click()
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)


def test_the_page_beside_follows_the_typing_before_anything_is_saved(
    visit: Visit, writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene))
    page.route(f"**{address(scene)}", lambda route: route.abort())
    text_of(page).fill(f"{HEADING}Fog, and a bell.\n\n")
    expect(page.locator("#scene-beside .paper")).to_contain_text("Fog, and a bell.")
    assert stored(scene) == "Fog."


def test_what_others_wrote_meanwhile_is_taken_in_when_the_typing_rests(
    visit: Visit, writer: Member, other_writer: Member, scene: WorkingScene
) -> None:
    page = visit(writer, address(scene), own_clock=True)
    lead = scene.working.scenes.get(position=0)
    save_scene(other_writer, lead, "Spray.\n\n" * 30, lead.version, uuid.uuid4())
    text_of(page).fill(f"{HEADING}{'Fog. ' * 5}\n\n")
    pause_typing(page)
    expect(state_of(page)).to_contain_text("Saved ")
    expect(page.get_by_role("group", name="Page 1")).to_be_visible()
    page.clock.fast_forward(TILL_AT_REST_MS)
    expect(page.get_by_role("group", name="Page 2")).to_be_visible()
