"""Whether the app can work: it answers and its database does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.decorators import login_not_required
from django.db import connection
from django.http import HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

if TYPE_CHECKING:
    from django.http import HttpRequest


@require_safe
@login_not_required
@never_cache
def healthy(request: HttpRequest) -> HttpResponse:
    """For a container's health check; anyone may ask, and learns nothing else."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("healthy\n", content_type="text/plain")
