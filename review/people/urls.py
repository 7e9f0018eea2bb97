"""Addresses of the people: setup, invitations, sign-in links, and a production's members."""

from __future__ import annotations

from django.urls import path

from review.people.views import join, links_told, people, security_log, setup, sign_in_link

urlpatterns = [
    path("setup/", setup.setup, name="setup"),
    path("setup/code/", setup.setup_code, name="setup-code"),
    path("join/<str:token>/", join.join, name="join"),
    path("in/<str:token>/", sign_in_link.sign_in_link, name="sign-in-link"),
    path("p/<str:production>/people/", people.people, name="people"),
    path("links/", links_told.links_told, name="links-told"),
    path("p/<str:production>/people/security-log/", security_log.security_log, name="security-log"),
    path("p/<str:production>/people/invite/", people.invite, name="invite"),
    path(
        "p/<str:production>/people/invitations/<str:public_id>/withdraw/",
        people.withdraw_invitation,
        name="invitation-withdraw",
    ),
    path("p/<str:production>/people/<str:public_id>/remove/", people.remove_member, name="member-remove"),
    path("p/<str:production>/people/<str:public_id>/place/", people.change_role, name="member-role"),
    path(
        "p/<str:production>/people/<str:public_id>/sign-in-link/",
        people.make_sign_in_link,
        name="member-sign-in-link",
    ),
]
