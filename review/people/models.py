"""Who is here: persons, their membership of a production, and the links that let them in."""

from __future__ import annotations

import hashlib
import secrets
from datetime import timedelta
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.utils import timezone

from review.access import Role
from review.records import PostedRecord, Record, new_public_id

INVITATION_LASTS = timedelta(days=14)
SIGN_IN_LINK_LASTS = timedelta(hours=24)


class Department(models.TextChoices):
    """The trade's departments (common practice)."""

    DIRECTION = "direction", "Direction"
    PRODUCTION = "production", "Production"
    CAMERA = "camera", "Camera"
    LIGHTING = "lighting", "Lighting and grip"
    SOUND = "sound", "Sound"
    ART = "art", "Art"
    PROPS = "props", "Props"
    COSTUME = "costume", "Costume"
    HAIR = "hair", "Hair and make-up"
    LOCATIONS = "locations", "Locations"
    STUNTS = "stunts", "Stunts"
    SPECIAL_EFFECTS = "special effects", "Special effects"
    VISUAL_EFFECTS = "visual effects", "Visual effects"
    EDITING = "editing", "Editing"
    MUSIC = "music", "Music"
    CAST = "cast", "Cast"
    WRITING = "writing", "Writing"


class People(BaseUserManager["Person"]):
    def create_user(self, email: str, name: str, password: str | None = None, **fields: Any) -> Person:
        """Make a person. Without a password they come in by links alone."""
        person = self.model(email=email.strip().lower(), name=name.strip(), **fields)
        person.set_password(password or None)
        person.save(using=self._db)
        return person

    def get_by_natural_key(self, username: str | None) -> Person:
        return self.get(email=(username or "").strip().lower())


class Person(AbstractBaseUser):
    """Someone who can sign in. `starts_productions` is true of those who may begin new ones."""

    public_id = models.CharField(max_length=16, unique=True, default=new_public_id, editable=False)
    email = models.EmailField(unique=True)
    name = models.CharField(max_length=80)
    is_active = models.BooleanField(default=True)
    starts_productions = models.BooleanField(default=False)
    created_at = models.DateTimeField(auto_now_add=True)

    objects: ClassVar[People] = People()

    seen_by: Person | None = None  # in a session that began by a link: who made it, and so how far it reaches

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    def __str__(self) -> str:
        return self.name

    @property
    def open_memberships(self) -> models.QuerySet[Member]:
        """Their places in the productions that they can open: all they are in, or, where a link that somebody made
        began the session, those that the other is in too."""
        mine = Member.objects.filter(person=self, removed_at=None)
        if self.seen_by is None:
            return mine
        return mine.filter(production__in=self.seen_by.open_memberships.values("production"))


class Member(Record):
    """A person's place in a production. Someone removed keeps their record, so that their notes keep their author.

    `character` is whom one of the cast plays, as a cue names them; "" for everyone else, and where it is not known.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="members")
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="memberships")
    role = models.CharField(max_length=10, choices=Role)
    department = models.CharField(max_length=20, choices=Department)
    character = models.CharField(max_length=120, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["person__name"]
        constraints = [models.UniqueConstraint(fields=["production", "person"], name="one_membership_a_person")]

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        return self.person.name

    @property
    def is_writer(self) -> bool:
        return self.role == Role.WRITER

    @property
    def plays(self) -> str:
        """The character they play, whichever of the character's cues was named; "" for nobody."""
        return self.production.names.name_of(self.character) if self.character else ""


def has_readers(member: Member) -> bool:
    """Whether anybody is on a member's production who reads, without being a writer."""
    others = Member.objects.filter(production_id=member.production_id, removed_at=None)
    return others.exclude(role=Role.WRITER).exists()


def hash_token(token: str) -> str:
    """What is kept of a secret link. A token has 256 random bits, so a plain SHA-256 is enough."""
    return hashlib.sha256(token.encode()).hexdigest()


def new_token() -> str:
    return secrets.token_urlsafe(32)


class Invitation(PostedRecord):
    """A link that lets one person into one production, once. The token itself is shown once and never kept.

    Where it is sent by mail too, a token of its own is made as the letter leaves, and lets in as well.
    """

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="invitations")
    token_hash = models.CharField(max_length=64, unique=True)
    mailed_token_hash = models.CharField(max_length=64, unique=True, null=True, blank=True)
    name = models.CharField(max_length=80)
    role = models.CharField(max_length=10, choices=Role)
    department = models.CharField(max_length=20, choices=Department)
    character = models.CharField(max_length=120, blank=True)
    invited_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="invitations_made")
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    used_by = models.ForeignKey(
        Member, on_delete=models.PROTECT, null=True, blank=True, related_name="invitations_used"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"Invitation for {self.name}"

    @property
    def state(self) -> str:
        """One of used, withdrawn, expired or open."""
        if self.used_at:
            return "used"
        if self.withdrawn_at:
            return "withdrawn"
        return "expired" if self.expires_at <= timezone.now() else "open"


class SignInLink(Record):
    """A link that signs one person in again. `local_only` ones work from the server's own machine alone.

    `made_by` is the writer who made it, None where it was made at the server's own terminal. A session that begins by a
    writer's link reaches no further than that writer; it holds until `ended_at`. `told_at` is when the person was told
    of the link in a session of their own.
    """

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="sign_in_links")
    made_by = models.ForeignKey(Member, on_delete=models.PROTECT, null=True, blank=True, related_name="sign_in_links")
    token_hash = models.CharField(max_length=64, unique=True)
    local_only = models.BooleanField(default=False)
    single_use = models.BooleanField(default=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    used_from = models.GenericIPAddressField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    told_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(single_use=True) | Q(local_only=True), name="reusable_links_work_from_this_machine_only"
            )
        ]

    def __str__(self) -> str:
        return f"Sign-in link for {self.person}"

    @property
    def state(self) -> str:
        """One of used, withdrawn, expired or open."""
        if self.single_use and self.used_at:
            return "used"
        if self.withdrawn_at:
            return "withdrawn"
        return "expired" if self.expires_at <= timezone.now() else "open"


class SetupCode(models.Model):
    """The code that guards the first writer's setup: printed in the terminal, kept hashed, void after wrong tries."""

    MOST_TRIES: ClassVar[int] = 10

    code_hash = models.CharField(max_length=64)
    wrong_tries = models.PositiveSmallIntegerField(default=0)
    created_at = models.DateTimeField(auto_now_add=True)
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"Setup code of {self.created_at:%Y-%m-%d %H:%M}"


class Try(models.Model):
    """Something that was tried and has not come out well: what, at whose door, and from where.

    `at_door` and `by` are hashes, so that nothing that was typed is kept. They are counted, and let go after a day.
    """

    KEPT: ClassVar[timedelta] = timedelta(days=1)

    what = models.CharField(max_length=16)
    at_door = models.CharField(max_length=64)
    by = models.CharField(max_length=64)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        indexes = [
            models.Index(fields=["what", "at_door", "at"]),
            models.Index(fields=["what", "by", "at"]),
            models.Index(fields=["at"]),
        ]

    def __str__(self) -> str:
        return f"{self.what} at {self.at:%Y-%m-%d %H:%M}"
