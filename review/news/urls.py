"""The address at which open pages ask what is new."""

from __future__ import annotations

from django.urls import path

from review.news.views import news

urlpatterns = [
    path("news/", news.news, name="news"),
]
