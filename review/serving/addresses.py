"""Where a request comes from, as far as that can be believed."""

from __future__ import annotations

from ipaddress import ip_address
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

UNKNOWN = ""


def address_of(told: Mapping[str, object], *, behind_proxy: bool) -> str:
    """The IP address of whoever sent a request; "" where none is known.

    `told` is what a WSGI server says of the request. Behind a server of ours the address is the last one of
    X-Forwarded-For, which that server added itself; whatever stands before it, or comes without such a server, anybody
    can have written.
    """
    forwarded = str(told.get("HTTP_X_FORWARDED_FOR", "")) if behind_proxy else ""
    for candidate in (forwarded.rpartition(",")[2].strip(), str(told.get("REMOTE_ADDR", ""))):
        try:
            return str(ip_address(candidate))
        except ValueError:
            continue
    return UNKNOWN
