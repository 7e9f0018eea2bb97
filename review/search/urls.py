"""The address of the search."""

from __future__ import annotations

from django.urls import path

from review.search.views import search

urlpatterns = [path("search/", search.search, name="search")]
