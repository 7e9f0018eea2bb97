"""The way in for an ASGI server, which waits for slow requests while Django's workers go on."""

from __future__ import annotations

from django.conf import settings

from project.wsgi import application as django_application
from review.people.sessions import is_signed_in
from review.serving.apart import Apart
from review.serving.gateway import Gateway
from review.urls import reads_a_script

THREADS = 4  # of each process, for Django's work

application = Gateway(
    django_application,
    threads=THREADS,
    behind_proxy=settings.BEHIND_HTTPS,
    is_signed_in=is_signed_in,
    takes_long=reads_a_script,
    apart=Apart(str(settings.BASE_DIR)),
)
