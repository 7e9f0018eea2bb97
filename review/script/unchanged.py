"""An answer that a browser may keep, if it asks each time whether what it has is still so.

The script of a film is long and seldom changes. Its page is kept by its reader's own browser alone (`private`), which
shows it only once the server has said that it may (`no-cache`), so that whoever was removed, or has signed out, is
turned away as ever; at sign-out the browser is told to drop what it has.

The page is compressed, and it has a CSRF token in it. BREACH (Gluck, Harris, Prado 2013) reads a secret off the length
of compressed answers if an attacker can have the same answer made many times over with guesses of their own in it. It
cannot be done here, for four reasons, each of which is enough: no word of the address or of the request stands in the
page; a request that another site causes does not carry the session's cookie (SameSite=Lax), but for following a link,
whose answer's length that site does not see; Django masks the token anew in each answer; and its compression adds a
random number of bytes to each.
"""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

from django.utils.cache import get_conditional_response

if TYPE_CHECKING:
    from django.http import HttpRequest, HttpResponse


def unless_unchanged(request: HttpRequest, response: HttpResponse, *, but_for: str) -> HttpResponse:
    """The answer with its ETag, or 304 without a body where the browser has it already.

    `but_for` is what differs each time and means the same, the masked CSRF token: one that was handed out before holds
    as long as the session does.
    """
    said = response.content.replace(but_for.encode(), b"")
    response["ETag"] = f'"{hashlib.blake2b(said, digest_size=16).hexdigest()}"'
    response["Cache-Control"] = "private, no-cache"
    return get_conditional_response(request, etag=response["ETag"], response=response) or response
