"""What members do with the scenes of a draft: take the breakdown away, mark words, set story days, put scenes in order;
and which of their places are one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere, refuse_unless
from review.drafts.list_language import language_sense
from review.people.models import Department
from review.productions.models import lock_for
from review.productions.said_names import kept_name
from review.scenes.breakdown import needs_of, read_breakdown, scene_rows
from review.scenes.models import LAST_DAY, MOST_MARKED, HandOrder, MarkedWord, StoryDay
from review.scenes.said_of_scenes import hand_order, set_days
from review.scenes.tables import as_csv, as_spreadsheet
from screenplay.breakdown import propose_order
from screenplay.words import words as words_in

if TYPE_CHECKING:
    import uuid
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.productions.models import Production
    from screenplay.breakdown import PlaceNames

Verb = log.Act.Verb


class NotToBeMarked(Exception):
    """Raised where what is to be marked is no word, is too long, or is for no department."""


class UnknownScene(Exception):
    """Raised where a draft has no such scene, or its order no such place."""


class ImpossibleDay(Exception):
    """Raised where a day of the story is before the first or after the last that can be."""


class DaysSetMeanwhile(Exception):
    """Raised where somebody has set the day of a scene since the page was shown. `standing` has all days that are set,
    `scenes` those in question."""

    def __init__(self, standing: Mapping[int, int], scenes: set[int]) -> None:
        super().__init__("Somebody else has set these days meanwhile.")
        self.standing = standing
        self.scenes = scenes


def take_breakdown(member: Member, draft: Draft, asked: Mapping[str, str], ending: str) -> bytes:
    """The rows of the draft's breakdown that an address asks for, as a file: "csv" or "xlsx"."""
    refuse_unless(member, Deed.READ)
    refuse_elsewhere(member, draft)
    rows = read_breakdown(scene_rows(member, draft), asked).rows
    sense = language_sense(draft)
    title = f"{draft.production.name}: {draft}"
    data = as_csv(rows, sense) if ending == "csv" else as_spreadsheet(rows, title, sense)
    told = {"number": draft.number, "as": ending, "scenes": len(rows)}
    log.record(member.person, Verb.TOOK_BREAKDOWN, draft.production, draft.public_id, **told)
    return data


@transaction.atomic
def mark_word(by: Member, words: str, department: str, form_id: uuid.UUID) -> MarkedWord:
    """Mark words for a department. The same form sent again, and words that it has marked, find what stands
    marked. Raises NotToBeMarked."""
    production = lock_for(by, Deed.MARK)
    words = " ".join(words.split())
    if not words_in(words) or len(words) > MOST_MARKED or department not in Department.values:
        raise NotToBeMarked
    own = MarkedWord.objects.filter(form_id=form_id, made_by=by)
    before = own.filter(words=words, department=department).first()
    if before is not None:
        return before
    if same := production.marked_words.filter(words__iexact=words, department=department, withdrawn_at=None).first():
        return same
    marked = MarkedWord.objects.create(
        form_id=MarkedWord.unused(form_id),
        production=production,
        made_by=by,
        words=words,
        department=department,
    )
    log.record(by.person, Verb.MARKED_WORD, production, marked.public_id, words=words, department=department)
    return marked


@transaction.atomic
def unmark_word(by: Member, marked: MarkedWord) -> None:
    """Mark a word no more; that it was is kept."""
    production = lock_for(by, Deed.MARK)
    refuse_elsewhere(by, marked)
    marked.refresh_from_db(fields=["withdrawn_at"])
    if marked.withdrawn_at is None:
        marked.withdrawn_at = timezone.now()
        marked.save(update_fields=["withdrawn_at"])
        log.record(by.person, Verb.WITHDREW_MARK, production, marked.public_id, words=marked.words)


@transaction.atomic
def set_story_days(by: Member, draft: Draft, days: Mapping[int, int | None], seen: Mapping[int, int]) -> int:
    """Set the story days of scenes of a draft, by ordinal, None for as proposed; how many that changed.

    `seen` has the days that stood on the page that is answered: what is as it was there is left as it stands by now.
    Raises DaysSetMeanwhile where one that is to change stands otherwise than it was seen, and is not the one wanted;
    UnknownScene and ImpossibleDay. Nothing is stored then.
    """
    production = lock_for(by, Deed.REWRITE)
    refuse_elsewhere(by, draft)
    if not days.keys() <= set(range(1, len(needs_of(draft)) + 1)):
        raise UnknownScene
    if not all(day is None or 1 <= day <= LAST_DAY for day in days.values()):
        raise ImpossibleDay
    standing = set_days(draft)
    wanted = {scene: day for scene, day in days.items() if day not in {seen.get(scene), standing.get(scene)}}
    if meanwhile := {scene for scene in wanted if standing.get(scene) != seen.get(scene)}:
        raise DaysSetMeanwhile(standing, meanwhile)
    StoryDay.objects.bulk_create(
        StoryDay(production=production, draft=draft, set_by=by, scene=scene, day=day) for scene, day in wanted.items()
    )
    if wanted:
        told = {"number": draft.number, "days": {str(scene): day for scene, day in wanted.items()}}
        log.record(by.person, Verb.SET_STORY_DAYS, production, draft.public_id, **told)
    return len(wanted)


@transaction.atomic
def move_scene_in_order(by: Member, draft: Draft, scene: int, to: int) -> int:
    """Move a scene of a draft, by ordinal, to a place in the order that stands by now, counted from 1, and say which
    it had; the others keep theirs towards each other. Raises UnknownScene."""
    production = lock_for(by, Deed.MARK)
    refuse_elsewhere(by, draft)
    needs = needs_of(draft)
    order = list(hand_order(draft, len(needs)) or propose_order(needs).scenes)
    if scene not in order or not 1 <= to <= len(order):
        raise UnknownScene
    was = order.index(scene) + 1
    order.remove(scene)
    order.insert(to - 1, scene)
    HandOrder.objects.create(production=production, draft=draft, made_by=by, scenes=order)
    log.record(by.person, Verb.ORDERED_SCENES, production, draft.public_id, number=draft.number)
    return was


@transaction.atomic
def begin_order_again(by: Member, draft: Draft) -> None:
    """Let the scenes of a draft stand as they are proposed; the order that was made by hand is kept."""
    production = lock_for(by, Deed.MARK)
    refuse_elsewhere(by, draft)
    if hand_order(draft, len(needs_of(draft))) is not None:
        HandOrder.objects.create(production=production, draft=draft, made_by=by, scenes=[])
        log.record(by.person, Verb.ORDERED_SCENES, production, draft.public_id, number=draft.number)


@transaction.atomic
def merge_places(by: Member, place: str, name: str) -> None:
    """Let a place, with all within it, be the one called `name`, in every draft; what was merged into it comes along.
    Raises SameName where one is the other already, or within it, or is empty, and TooLongName."""
    production = lock_for(by, Deed.REWRITE)
    place, name = kept_name(place), kept_name(name)
    names = production.names_of_places.with_one(place, name)
    _store_places(production, names)
    log.record(by.person, Verb.MERGED_PLACES, production, production.public_id, place=place, name=names.name_of(place))


@transaction.atomic
def keep_places_apart(by: Member, place: str, name: str) -> None:
    """Let a place be one of its own, and not the one called `name`. Raises SameName where the two are spelled alike, or
    one is empty, and TooLongName."""
    production = lock_for(by, Deed.REWRITE)
    place, name = kept_name(place), kept_name(name)
    _store_places(production, production.names_of_places.with_two(place, name))
    log.record(by.person, Verb.KEPT_PLACES_APART, production, production.public_id, place=place, name=name)


def _store_places(production: Production, names: PlaceNames) -> None:
    production.place_names = names.as_plain_data
    production.save(update_fields=["place_names"])
