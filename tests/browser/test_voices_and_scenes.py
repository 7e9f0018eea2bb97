"""How the characters talk and what each scene needs, in a real browser: from a rule to likeness, words marked where
they stand, and every screen by a screen reader's rules."""

from __future__ import annotations

import uuid
from io import BytesIO
from itertools import combinations
from typing import TYPE_CHECKING, Any

import pytest
from django.urls import reverse
from PIL import Image, ImageChops
from playwright.sync_api import expect

from review.characters.acts import make_rule
from review.scenes.acts import mark_word
from review.scenes.models import MarkedWord
from screenplay.speech import RuleKind, VoiceRule
from tests.browser.conftest import PHONE, TOUCH
from tests.browser.reach import DESK_BY_DAY_PHONE_BY_NIGHT, LOOKED_AT, shuts_nobody_out
from tests.browser.script_steps import script_of
from tests.factories import make_draft

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Locator, Page

    from review.people.models import Member

    Visit = Callable[..., Page]

# Three voices of three hundred words and more, so that they can be held against each other.
SPEECHES = {
    "NELL": ("I don't know", ["rope", "tide", "boat"] * 20),
    "TOBIAS": ("It is not so", ["tide", "oar", "net"] * 20),
    "IRIS": ("We shall see", ["boat", "net", "fog"] * 20),
}
TALK = "\n\n".join(
    f"{name}\n{said}. " + " ".join(f"{said} and {word} then {word}." for word in words)
    for name, (said, words) in SPEECHES.items()
)
SCRIPT = f"INT. LOFT - NIGHT\n\nNell lights a LANTERN.\n\n{TALK}\n\nEXT. QUAY - DAY\n\nA lantern on a nail.\n"


def at(member: Member, name: str, *more: Any) -> str:
    return reverse(name, args=[member.production.public_id, *more])


def test_a_writer_sets_a_rule_mends_its_breaches_and_sees_the_likeness_move(writer: Member, visit: Visit) -> None:
    make_draft(writer, SCRIPT)
    page = visit(writer, at(writer, "voice", 1, "NELL"))
    page.get_by_text("Make a rule").click()
    page.get_by_label("What they always or never do").select_option("no_contractions")
    page.get_by_role("button", name="Make the rule").click()
    expect(page.get_by_text("61 breaches")).to_be_visible()

    page.goto(at(writer, "working"))
    page.get_by_role("button", name="Begin draft 2").click()
    page.get_by_role("link", name="LOFT").first.click()
    field = page.locator("textarea[name=text]")
    expect(page.locator(".writing-breaches")).to_contain_text("NELL never contracts")
    field.fill(field.input_value().replace("don't", "do not"))
    expect(page.locator(".writing-breaches")).to_have_count(0)
    page.get_by_role("button", name="Save").first.click()

    page.goto(at(writer, "voice", 1, "NELL") + "?model=TOBIAS")
    expect(page.get_by_text("0 in the working draft")).to_be_visible()
    before, after = (float(row.split()[-1]) for row in page.locator(".likeness-drafts tbody tr").all_inner_texts())
    assert before != after


@pytest.mark.parametrize("by", ["keyboard", "touch"])
def test_words_are_marked_where_they_stand(crew: Member, writer: Member, visit: Visit, by: str) -> None:
    draft = make_draft(writer, SCRIPT)
    page = visit(crew, script_of(draft), **(TOUCH if by == "touch" else {}))
    if by == "keyboard":
        page.locator("#L3").focus()
        page.keyboard.press("ArrowLeft")
    else:  # a finger's long press selects a word, as a double click does
        page.locator("#L3").evaluate(
            """line => { const words = line.firstChild; getSelection().setBaseAndExtent(words, 14, words, 21); }"""
        )
    button = page.get_by_role("button", name="Mark words", exact=True)
    expect(button).to_be_in_viewport(ratio=1)
    if by == "keyboard":
        button.focus()
        page.keyboard.press("Enter")
    else:
        button.tap()
    form = page.get_by_role("dialog", name="Mark words for a department")
    expect(form.get_by_label("Word or words")).to_have_value("LANTERN")
    form.get_by_label("Department").select_option("props")
    form.get_by_role("button", name="Mark it").click()
    expect(page.get_by_role("dialog")).to_contain_text("Here it stands in scenes 1, 2.")
    page.get_by_role("button", name="Close").click()
    marked = MarkedWord.objects.get()
    assert (marked.words, marked.department, marked.made_by) == ("LANTERN", "props", crew)


@pytest.mark.parametrize(
    ("hand", "said"),
    [
        ({"viewport": PHONE}, "The table goes on to the right."),
        (TOUCH, "The table goes on to the right: swipe it sideways."),
    ],
)
def test_only_a_finger_is_told_to_swipe(
    crew: Member, writer: Member, visit: Visit, hand: dict[str, Any], said: str
) -> None:
    draft = make_draft(writer, SCRIPT)
    page = visit(crew, reverse("voices", args=[draft.production.public_id, 1]), **hand)
    assert page.locator(".table-hint").inner_text() == said


SEEN_AS = [{"type": sight} for sight in ("achromatopsia", "deuteranopia", "protanopia", "tritanopia")]
LOOKS: list[dict[str, Any]] = [
    {"color_scheme": "light"},
    {"color_scheme": "dark"},
    {"media": "print"},
    {"forced_colors": "active"},
]


def test_a_picture_tells_apart_what_it_tells_apart_without_its_hues(writer: Member, visit: Visit) -> None:
    """By lightness and shape alone, as WCAG 2.2 asks (1.4.1, use of colour): what was kept, moved, split, added, cut,
    by night, on paper, in forced colours, and as the browser emulates eyes that miss hues. 40 of 255 levels count."""
    make_draft(writer, SCRIPT)
    make_draft(writer, SCRIPT.replace("on a nail", "on a hook"), 2)
    page = visit(writer, at(writer, "scenes-pictures", 2))
    signs = page.locator("svg.flow > rect")
    expect(signs).to_have_count(5)
    sight = page.context.new_cdp_session(page)
    for look in LOOKS:
        page.emulate_media(**{"media": "screen", "forced_colors": "none", **look})
        assert_told_apart(page, signs, look)
    page.emulate_media(media="screen", forced_colors="none", color_scheme="light")
    for eyes in SEEN_AS:
        sight.send("Emulation.setEmulatedVisionDeficiency", eyes)
        assert_told_apart(page, signs, eyes)
    sight.detach()


def assert_told_apart(page: Page, signs: Locator, look: dict[str, Any]) -> None:
    signs.first.scroll_into_view_if_needed()
    boxes = [box for sign in signs.all() if (box := sign.bounding_box())]
    assert len(boxes) == 5, f"not all are shown: {look}"
    seen = Image.open(BytesIO(page.screenshot())).convert("L")
    drawn = [seen.crop((int(box["x"]), int(box["y"]), int(box["x"]) + 14, int(box["y"]) + 11)) for box in boxes]
    for one, other in combinations(drawn, 2):
        apart = ImageChops.difference(one, other).histogram()
        assert sum(apart[40:]) >= 10, look


def test_their_screens_are_accessible_and_fit_with_all_opened(writer: Member, crew: Member, visit: Visit) -> None:
    draft = make_draft(writer, SCRIPT)
    make_draft(writer, SCRIPT.replace("on a nail", "on a hook"), 2)
    make_rule(writer, draft, VoiceRule("NELL", RuleKind.NO_CONTRACTIONS), uuid.uuid4())
    mark_word(crew, "lantern", "props", uuid.uuid4())
    screens = [
        at(writer, "voices", 2),
        at(writer, "voice", 2, "NELL") + "?model=TOBIAS&lines=contractions",
        at(writer, "voice-part", 2, "NELL"),
        at(writer, "scenes", 2),
        at(writer, "scenes-pictures", 2),
        at(writer, "scenes-days", 2),
        at(writer, "scenes-places"),
    ]
    page = visit(writer, screens[0], **LOOKED_AT)
    for screen in screens:
        page.goto(screen)
        page.locator("details").evaluate_all("all => all.forEach(each => { each.open = true; })")
        shuts_nobody_out(page, DESK_BY_DAY_PHONE_BY_NIGHT)
