"""Every model of the app, for Django to find; each lives in its own room."""

from __future__ import annotations

from review.characters.models import CharacterRule
from review.decisions.models import Decision
from review.drafts.models import Draft
from review.drafts.visits import Visit
from review.findable.models import Findable
from review.health import Pulse
from review.log import Act
from review.mail.models import Letter, MailWish, PieceOfNews, SendersTurn, StoppedAddress
from review.making.models import Making
from review.notes.models import EarlierText, Note, Placement, Reply
from review.notes_screen.models import NotesLook
from review.papers.models import PaperPicture, PaperReaders, PaperVersion, WorldPaper
from review.papers.note_models import EarlierPaperText, PaperDecision, PaperNote, PaperPlace, PaperReply
from review.people.models import Invitation, Member, Person, SetupCode, SignInLink, Try
from review.productions.models import Production
from review.publishing.models import HeldDraft
from review.readers.models import Reader, Reading
from review.readings.models import ClarityMark, SceneRead
from review.readings.question_models import BlindAnswer, BlindQuestion, ScenePurpose
from review.rewriting.models import DownloadedText, SceneText, WorkingDraft, WorkingScene
from review.rewriting.wording_models import TakenWording, WrittenIn
from review.scenes.models import HandOrder, MarkedWord, StoryDay
from review.talks.models import Talk

__all__ = [
    "Act",
    "BlindAnswer",
    "BlindQuestion",
    "CharacterRule",
    "ClarityMark",
    "Decision",
    "DownloadedText",
    "Draft",
    "EarlierPaperText",
    "EarlierText",
    "Findable",
    "HandOrder",
    "HeldDraft",
    "Invitation",
    "Letter",
    "MailWish",
    "Making",
    "MarkedWord",
    "Member",
    "Note",
    "NotesLook",
    "PaperDecision",
    "PaperNote",
    "PaperPicture",
    "PaperPlace",
    "PaperReaders",
    "PaperReply",
    "PaperVersion",
    "Person",
    "PieceOfNews",
    "Placement",
    "Production",
    "Pulse",
    "Reader",
    "Reading",
    "Reply",
    "ScenePurpose",
    "SceneRead",
    "SceneText",
    "SendersTurn",
    "SetupCode",
    "SignInLink",
    "StoppedAddress",
    "StoryDay",
    "TakenWording",
    "Talk",
    "Try",
    "Visit",
    "WorkingDraft",
    "WorkingScene",
    "WorldPaper",
    "WrittenIn",
]
