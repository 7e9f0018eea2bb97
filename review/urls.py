"""Every address of the app; the rooms' own lists hold what stands below a production."""

from __future__ import annotations

from django.urls import include, path

from review import health

urlpatterns = [
    path("healthy/", health.healthy, name="healthy"),
    path("", include("review.people.urls")),
    path("", include("review.productions_screen.urls")),
    path("p/<str:production>/", include("review.home.urls")),
    path("p/<str:production>/", include("review.drafts.urls")),
    path("p/<str:production>/", include("review.script.urls")),
    path("p/<str:production>/", include("review.notes_screen.urls")),
    path("p/<str:production>/", include("review.next_draft.urls")),
    path("p/<str:production>/", include("review.publishing.urls")),
    path("p/<str:production>/", include("review.printing.urls")),
    path("p/<str:production>/", include("review.changes.urls")),
    path("p/<str:production>/", include("review.voices.urls")),
]
