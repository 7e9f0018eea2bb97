"""Addresses of talks."""

from __future__ import annotations

from django.urls import path

from review.talks.views import talk, talk_new, talks

urlpatterns = [
    path("talks/", talks.talks, name="talks"),
    path("talks/new/", talk_new.talk_new, name="talk-new"),
    path("talks/<str:public_id>/", talk.talk, name="talk"),
    path("talks/<str:public_id>/change/", talk_new.talk_change, name="talk-change"),
    path("talks/<str:public_id>/call-off/", talk_new.talk_call_off, name="talk-call-off"),
    path("talks/<str:public_id>/taken-down/", talk.talk_taken_down, name="talk-taken-down"),
    path("talks/<str:public_id>/agenda/", talk.talk_agenda, name="talk-agenda"),
    path("talks/<str:public_id>/calendar/", talk.talk_calendar, name="talk-calendar"),
]
