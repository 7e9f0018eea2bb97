"""What is done with questions: asked, carried on, withdrawn and asked again, answered, judged; and what scenes are for.
Each act is one logged transaction."""

from __future__ import annotations

import uuid
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from review import log
from review.access import Deed, refuse_elsewhere
from review.people.acts import Refused
from review.productions.models import lock_for
from review.readers.models import Reading
from review.readings.followed_scenes import purposes_in, scenes_followed
from review.readings.locked_reading import lock_reading, refuse_no_scene
from review.readings.question_models import AnsweredBy, AskedAbout, BlindAnswer, BlindQuestion, ScenePurpose
from review.readings.reader_acts import finish_reading, goes_on, lock_own_reader, lock_reader
from review.records import sent_before
from screenplay.reception import Verdict

if TYPE_CHECKING:
    from collections.abc import Mapping

    from review.drafts.models import Draft
    from review.people.models import Member
    from review.readers.models import Reader

Verb = log.Act.Verb
CLOSED = "This reading is closed: nobody would answer. Open it again first."
NO_VERDICT = "Say whether it came across, partly, or was missed."
WORDS_ALONE = "Only an answer in words is judged: of the others it can be seen what came across."


class PurposesChangedMeanwhile(Exception):
    """Other purposes stand by now than a writer was shown, of scenes whose purposes they changed too: `theirs`, by the
    scenes' ordinals."""

    def __init__(self, theirs: Mapping[int, str]) -> None:
        super().__init__("The purposes were changed meanwhile.")
        self.theirs = theirs


@dataclass(frozen=True, slots=True)
class Asking:
    """A question as it is asked; its fields are those of the record. `scene` is an ordinal in the reading's draft."""

    text: str
    about: str = AskedAbout.DRAFT
    scene: int | None = None
    character: str = ""
    answered_by: str = AnsweredBy.WORDS
    options: tuple[str, ...] = ()
    intended: str = ""


@transaction.atomic
def ask(by: Member, reading: Reading, asking: Asking, form_id: uuid.UUID) -> BlindQuestion:
    """Ask the readers of a reading something; the same form sent again finds the question it asked, and the very same
    question the one that stands.

    Raises NoSuchScene, and Refused where the reading is closed.
    """
    found = lock_reading(by, reading)
    own = BlindQuestion.objects.filter(asked_by=by)
    said = {"reading": found} | _said(asking)
    same = own.standing().filter(reading__closed_at=None, **said)
    before = sent_before(said, own.filter(form_id=form_id), same)
    if before is not None:
        return before
    if not found.is_open:
        raise Refused(CLOSED)
    if asking.scene is not None:
        refuse_no_scene(found.draft, asking.scene)
    return _store(by, found, asking, BlindQuestion.unused(form_id))


def _said(asking: Asking) -> dict[str, Any]:
    """The fields of a question that say what is asked."""
    said = asdict(asking)
    return said | {"text": said["text"].strip(), "options": list(asking.options), "intended": said["intended"].strip()}


def _store(
    by: Member, reading: Reading, asking: Asking, form_id: uuid.UUID, carried_from: BlindQuestion | None = None
) -> BlindQuestion:
    made = BlindQuestion.objects.create(
        form_id=form_id,
        reading=reading,
        asked_by=by,
        **_said(asking),
        carried_from=carried_from,
    )
    log.record(by.person, Verb.ASKED_QUESTION, by.production, made.public_id, reading=reading.public_id)
    return made


@transaction.atomic
def carry_questions(by: Member, earlier: Reading, reading: Reading) -> tuple[int, int]:
    """Ask again what was asked in an earlier reading, each question once: how many were, and how many could not be,
    since their scene is gone. A question about a scene follows it."""
    found = lock_reading(by, reading)
    refuse_elsewhere(by, earlier)
    if not found.is_open:
        raise Refused(CLOSED)
    before = Reading.objects.select_related("draft__production").get(pk=earlier.pk)
    followed = scenes_followed(before.draft, found.draft)
    there = set(found.questions.exclude(carried_from=None).values_list("carried_from", flat=True))
    carried = lost = 0
    for question in earlier.questions.standing():
        if question.pk in there:
            continue
        scene = followed.get(question.scene) if question.scene is not None else None
        if question.about == AskedAbout.SCENE and scene is None:
            lost += 1
            continue
        asking = Asking(
            question.text,
            question.about,
            scene,
            question.character,
            question.answered_by,
            tuple(question.options),
            question.intended,
        )
        _store(by, found, asking, uuid.uuid4(), question)
        carried += 1
    return carried, lost


@transaction.atomic
def withdraw_question(by: Member, question: BlindQuestion) -> bool:
    """Ask it no longer; whether it stood until now. Answers to it are kept, and count no longer."""
    lock_reading(by, question.reading)
    if not BlindQuestion.objects.filter(pk=question.pk, withdrawn_at=None).update(withdrawn_at=timezone.now()):
        return False
    log.record(by.person, Verb.WITHDREW_QUESTION, by.production, question.public_id)
    return True


@transaction.atomic
def ask_again(by: Member, question: BlindQuestion) -> bool:
    """Ask again what was asked no longer; whether it was not until now. Answers that were kept count once more."""
    lock_reading(by, question.reading)
    if not BlindQuestion.objects.filter(pk=question.pk, withdrawn_at__isnull=False).update(withdrawn_at=None):
        return False
    log.record(by.person, Verb.ASKED_AGAIN, by.production, question.public_id)
    return True


@transaction.atomic
def show_intended(by: Member, question: BlindQuestion) -> bool:
    """Let readers who may see each other's answers see what was meant, too; whether it was kept from them until now."""
    lock_reading(by, question.reading)
    shown = BlindQuestion.objects.filter(pk=question.pk, intended_shown_at=None).update(
        intended_shown_at=timezone.now()
    )
    if shown:
        log.record(by.person, Verb.SHOWED_INTENDED, by.production, question.public_id)
    return bool(shown)


@transaction.atomic
def judge(by: Member, answer: BlindAnswer, verdict: str) -> bool:
    """Say whether what was meant came across in an answer in words, "" to leave it open; whether that changed. Raises
    Refused where that is no verdict."""
    lock_reading(by, answer.question.reading)
    found = BlindAnswer.objects.select_related("question").get(pk=answer.pk)
    if found.question.answered_by != AnsweredBy.WORDS:
        raise PermissionDenied(WORDS_ALONE)
    if verdict not in {"", *Verdict}:
        raise Refused(NO_VERDICT)
    if found.verdict == verdict:
        return False
    was = found.verdict
    found.verdict, found.judged_by = verdict, by
    found.save(update_fields=["verdict", "judged_by"])
    log.record(by.person, Verb.JUDGED_ANSWER, by.production, found.public_id, verdict=verdict, was=was)
    return True


@transaction.atomic
def answer_questions(by: Member, reading: Reading, given: Mapping[str, str]) -> int:
    """Keep a reader's answers, by the questions' public ids; how many are new. One that is empty, or as it was, changes
    nothing; another in its place leaves the first kept.

    What is no answer to its question is left out. Raises Refused where the reader has finished or the reading is
    closed.
    """
    return _keep_answers(by, lock_reader(by, reading), given)


@transaction.atomic
def answer_and_finish(by: Member, reading: Reading, given: Mapping[str, str]) -> bool:
    """Keep a reader's last answers and finish with them, both or neither; whether it was not finished until now. What
    is answered after that is left out. Raises Refused where the reading is closed."""
    reader = lock_own_reader(by, reading)
    if goes_on(reader):
        _keep_answers(by, reader, given)
    return finish_reading(by, reading)


def _keep_answers(by: Member, reader: Reader, given: Mapping[str, str]) -> int:
    questions = {question.public_id: question for question in reader.reading.questions.standing()}
    had = {answer.question_id: answer for answer in reader.answers.standing()}
    new = 0
    for public_id, text in given.items():
        question, said = questions.get(public_id), text.strip()
        if question is None or not said or not _answers(question, said):
            continue
        before = had.get(question.pk)
        if before is not None and before.text == said:
            continue
        if before is not None:
            before.replaced_at = timezone.now()
            before.save(update_fields=["replaced_at"])
        made = BlindAnswer.objects.create(question=question, reader=reader, text=said)
        log.record(by.person, Verb.ANSWERED_QUESTION, by.production, made.public_id, question=public_id)
        new += 1
    return new


def _answers(question: BlindQuestion, said: str) -> bool:
    return question.answered_by == AnsweredBy.WORDS or said in dict(question.choices)


@transaction.atomic
def write_purposes(
    by: Member, draft: Draft, purposes: Mapping[int, str], shown: Mapping[int, str] | None = None
) -> int:
    """Write down why scenes are in the film, by their ordinals in the draft; how many changed.

    `shown` is what the writer was shown of these scenes: what they left as it was stays as it stands, whoever wrote it
    meanwhile. Raises NoSuchScene, and PurposesChangedMeanwhile where another writer has changed what they changed too;
    nothing is written then.
    """
    lock_for(by, Deed.ASK_FOR_READING)
    refuse_elsewhere(by, draft)
    standing = purposes_in(draft)
    wanted = {ordinal: " ".join(text.split()) for ordinal, text in purposes.items()}
    seen = standing | dict(shown or {})
    new = {at: said for at, said in wanted.items() if said not in {seen.get(at, ""), standing.get(at, "")}}
    theirs = {at: standing.get(at, "") for at in new if seen.get(at, "") != standing.get(at, "")}
    if theirs:
        raise PurposesChangedMeanwhile(theirs)
    for ordinal in wanted:
        refuse_no_scene(draft, ordinal)
    for ordinal, said in new.items():
        ScenePurpose.objects.filter(draft=draft, scene=ordinal, replaced_at=None).update(replaced_at=timezone.now())
        made = ScenePurpose.objects.create(draft=draft, scene=ordinal, text=said, written_by=by)
        log.record(by.person, Verb.WROTE_PURPOSE, by.production, made.public_id, draft=draft.number, scene=ordinal)
    return len(new)
