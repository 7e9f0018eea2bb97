"""Every address of the app; the rooms' own lists hold what stands below a production."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.urls import Resolver404, include, path, resolve

from review import health
from review.letters.views import mail_stop
from review.script.views import script

if TYPE_CHECKING:
    from wsgiref.types import WSGIEnvironment

urlpatterns = [
    path("healthy/", health.healthy, name="healthy"),
    path("mail/stop/<str:token>/", mail_stop.mail_stop, name="mail-stop"),
    path("p/reading-on.js", script.reading_on, name="reading-on"),
    path("", include("review.people.urls")),
    path("", include("review.productions_screen.urls")),
    path("p/<str:production>/", include("review.home.urls")),
    path("p/<str:production>/", include("review.letters.urls")),
    path("p/<str:production>/", include("review.news.urls")),
    path("p/<str:production>/", include("review.making.urls")),
    path("p/<str:production>/", include("review.drafts.urls")),
    path("p/<str:production>/", include("review.script.urls")),
    path("p/<str:production>/", include("review.notes_screen.urls")),
    path("p/<str:production>/", include("review.readings.urls")),
    path("p/<str:production>/", include("review.talks.urls")),
    path("p/<str:production>/", include("review.next_draft.urls")),
    path("p/<str:production>/", include("review.publishing.urls")),
    path("p/<str:production>/", include("review.printing.urls")),
    path("p/<str:production>/", include("review.exchange.urls")),
    path("p/<str:production>/", include("review.changes.urls")),
    path("p/<str:production>/", include("review.search.urls")),
    path("p/<str:production>/", include("review.papers.urls")),
    path("p/<str:production>/", include("review.voices.urls")),
    path("p/<str:production>/", include("review.scenes.urls")),
]

# A script comes in by these, which may be the worst there can be: it is read, laid out and compared with others; the
# report that follows says what was read.
READING_A_SCRIPT = {
    ("POST", "draft-upload"),
    ("GET", "draft-held"),
    ("POST", "working-put-back"),
    ("GET", "draft-report"),
}


def reads_a_script(told: WSGIEnvironment) -> bool:
    """Whether a request brings a script that has to be read, and so takes long."""
    try:
        return (told["REQUEST_METHOD"], resolve(_path(told)).url_name) in READING_A_SCRIPT
    except Resolver404:
        return False


def _path(told: WSGIEnvironment) -> str:
    """The path of a request: PEP 3333 tells its bytes as characters of Latin-1."""
    return str(told["PATH_INFO"]).encode("latin-1").decode("utf-8", "replace")
