"""Whether the app can work: it answers, and its database takes in what is written."""

from __future__ import annotations

import logging
import time
from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError, models
from django.http import HttpResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

if TYPE_CHECKING:
    from django.http import HttpRequest

WRITTEN_EVERY = 10.0  # seconds, however often it is asked: anyone may ask
UNWELL = 503

logger = logging.getLogger(__name__)


class Pulse(models.Model):
    """When something was last written to see whether it can be; there is one record."""

    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M:%S}"


class Pulses:
    """Writes one now and then, and knows when that last went well."""

    def __init__(self) -> None:
        self._written = float("-inf")

    def forget(self) -> None:
        """Write at the next question, however soon it comes."""
        self._written = float("-inf")

    def write(self) -> None:
        """Write one, unless that went well a moment ago. Raises DatabaseError where nothing can be written."""
        if time.monotonic() - self._written < WRITTEN_EVERY:
            return
        self._written = float("-inf")
        Pulse.objects.update_or_create(pk=1, defaults={"at": timezone.now()})
        self._written = time.monotonic()


pulses = Pulses()


@require_safe
@login_not_required
@never_cache
def healthy(request: HttpRequest) -> HttpResponse:
    """For a container's health check; anyone may ask, and learns nothing else."""
    try:
        pulses.write()
    except DatabaseError as error:
        logger.error("Unwell: nothing can be written to the database (%s).", str(error).strip().partition("\n")[0])
        return HttpResponse("unwell: nothing can be written\n", content_type="text/plain", status=UNWELL)
    return HttpResponse("healthy\n", content_type="text/plain")
