"""Which world papers there are for whom, and what becomes of them."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from review.log import Act
from review.papers.acts import PaperAsked, put_paper_back, put_up_paper, withdraw_paper
from review.papers.models import WorldPaper
from review.people.models import Department
from tests.factories import make_member, make_production

if TYPE_CHECKING:
    from collections.abc import Callable

    from django.test import Client

    from review.people.models import Member

    SignIn = Callable[[Member], Client]


def for_whom(writer: Member, *departments: str, members: tuple[Member, ...] = (), everyone: bool = False) -> WorldPaper:
    asked = PaperAsked("Harbour rules", everyone, departments, members)
    return put_up_paper(writer, asked, "No lamp after nine.", uuid.uuid4())


def test_a_paper_is_there_for_whom_it_is_for_and_for_writers(writer: Member, crew: Member, cast: Member) -> None:
    of_camera = for_whom(writer, Department.CAMERA)
    of_cleo = for_whom(writer, members=(cast,))
    of_all = for_whom(writer, everyone=True)
    stranger = make_member(make_production("Elsewhere"))
    assert {*WorldPaper.objects.visible_to(writer)} == {of_camera, of_cleo, of_all}
    assert {*WorldPaper.objects.visible_to(crew)} == {of_camera, of_all}
    assert {*WorldPaper.objects.visible_to(cast)} == {of_cleo, of_all}
    assert not WorldPaper.objects.visible_to(stranger).exists()


def test_what_is_not_for_somebody_does_not_exist_for_them(writer: Member, cast: Member, signed_in: SignIn) -> None:
    paper = for_whom(writer, Department.CAMERA)
    client = signed_in(cast)
    ids = [writer.production.public_id, paper.public_id]
    assert paper.title not in client.get(reverse("papers", args=ids[:1])).text
    for name in ("paper", "paper-changes"):
        assert client.get(reverse(name, args=ids)).status_code == 404
    assert client.get(reverse("paper-picture", args=[*ids, "map"])).status_code == 404


def test_a_writer_is_told_on_the_paper_itself_whom_it_is_for(
    writer: Member, crew: Member, cast: Member, signed_in: SignIn
) -> None:
    paper = for_whom(writer, Department.CAMERA, members=(cast,))
    address = reverse("paper", args=[writer.production.public_id, paper.public_id])
    assert f"for Camera, {cast.name}" in " ".join(signed_in(writer).get(address).text.split())
    assert cast.name not in signed_in(crew).get(address).text


def test_a_withdrawn_one_is_kept_for_writers_and_can_be_put_back(
    writer: Member, crew: Member, paper: WorldPaper, signed_in: SignIn
) -> None:
    withdraw_paper(writer, paper)
    withdraw_paper(writer, paper)
    assert not WorldPaper.objects.visible_to(crew).exists()
    page = signed_in(writer).get(reverse("papers", args=[writer.production.public_id])).text
    assert "Put it back" in page
    put_paper_back(writer, paper)
    assert WorldPaper.objects.visible_to(crew).exists()
    verbs = [Act.Verb.WITHDREW_PAPER, Act.Verb.PUT_PAPER_BACK]
    assert list(Act.objects.filter(verb__in=verbs).order_by("pk").values_list("verb", flat=True)) == verbs


def test_only_writers_put_papers_up_and_for_their_own_production(writer: Member, crew: Member) -> None:
    with pytest.raises(PermissionDenied):
        for_whom(crew, everyone=True)
    with pytest.raises(PermissionDenied):
        for_whom(writer, members=(make_member(make_production("Elsewhere")),))


def test_before_the_first_it_says_what_papers_are(crew: Member, signed_in: SignIn) -> None:
    assert "None yet" in signed_in(crew).get(reverse("papers", args=[crew.production.public_id])).text
