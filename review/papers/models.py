"""World papers, whom they are for, their versions and pictures; what is said on them is in `note_models`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import models
from django.db.models import Exists, OuterRef, Q

from review.people.models import Department
from review.records import PostedRecord, Record

if TYPE_CHECKING:
    from review.people.models import Member

MOST_TITLE = 120
MOST_TEXT = 60_000  # characters of a version
MOST_PICTURE_NAME = 60
MOST_PICTURES = 40  # of one paper


class PaperQuerySet(models.QuerySet["WorldPaper"]):
    def visible_to(self, member: Member) -> PaperQuerySet:
        """The production's papers that the member may read: writers all of them, withdrawn ones too, others those that
        are for everyone, for them, or for their department, as they stand."""
        papers = self.filter(production_id=member.production_id)
        if member.is_writer:
            return papers
        named = PaperReaders.objects.filter(Q(member=member) | Q(department=member.department), paper=OuterRef("pk"))
        return papers.filter(Q(for_everyone=True) | Exists(named), withdrawn_at=None)


class WorldPaper(PostedRecord):
    """A text of the story's world. One that is withdrawn is kept, for writers alone. `put_up_as` is the mark of all
    that the form said which put it up."""

    production = models.ForeignKey("review.Production", on_delete=models.PROTECT, related_name="papers")
    title = models.CharField(max_length=MOST_TITLE)
    for_everyone = models.BooleanField(default=False)
    put_up_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="papers_put_up")
    put_up_as = models.CharField(max_length=16, blank=True, editable=False)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = PaperQuerySet.as_manager()

    class Meta:
        ordering = ["title", "id"]

    def __str__(self) -> str:
        return self.title


class PaperReaders(models.Model):
    """A member, or a department, that a paper is for."""

    paper = models.ForeignKey(WorldPaper, on_delete=models.CASCADE, related_name="readers")
    member = models.ForeignKey("review.Member", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    department = models.CharField(max_length=20, choices=Department, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(member=None) ^ Q(department=""), name="a_paper_is_for_a_member_or_a_department"
            )
        ]

    def __str__(self) -> str:
        return self.member.name if self.member else str(self.get_department_display())


class PaperVersionQuerySet(models.QuerySet["PaperVersion"]):
    def latest_of_each(self) -> PaperVersionQuerySet:
        """Of each paper the version that stands."""
        later = PaperVersion.objects.filter(paper=OuterRef("paper"), number__gt=OuterRef("number"))
        return self.filter(~Exists(later))


class PaperVersion(PostedRecord):
    """A paper's text as it was put up; it never changes. `number` counts a paper's versions from 1."""

    paper = models.ForeignKey(WorldPaper, on_delete=models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    text = models.TextField()
    put_up_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="paper_versions")

    objects = PaperVersionQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["paper", "number"], name="versions_of_a_paper_in_order")]

    def __str__(self) -> str:
        return f"{self.paper}, version {self.number}"


class PaperPicture(Record):
    """A picture that a paper's versions can show, by its name; it never changes."""

    paper = models.ForeignKey(WorldPaper, on_delete=models.PROTECT, related_name="pictures")
    name = models.CharField(max_length=MOST_PICTURE_NAME)
    content = models.BinaryField()
    media_type = models.CharField(max_length=20)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    put_up_by = models.ForeignKey("review.Member", on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["name"]
        constraints = [models.UniqueConstraint(fields=["paper", "name"], name="one_picture_a_name")]

    def __str__(self) -> str:
        return self.name
