"""What Django answers to a request, as a whole."""

from __future__ import annotations

from dataclasses import dataclass, field
from http import HTTPStatus
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from wsgiref.types import WSGIApplication, WSGIEnvironment


@dataclass(slots=True)
class WholeAnswer:
    """What Django answers, as a whole."""

    status: int = HTTPStatus.INTERNAL_SERVER_ERROR
    headers: list[tuple[bytes, bytes]] = field(default_factory=list)
    body: bytes = b""

    def taken_out(self, name: str) -> str:
        """The value of a header that goes no further, "" where there is none."""
        key = name.lower().encode()
        found = [value for header, value in self.headers if header == key]
        self.headers = [header for header in self.headers if header[0] != key]
        return found[0].decode() if found else ""


def answer_of(application: WSGIApplication, environ: WSGIEnvironment, body: bytes) -> WholeAnswer:
    """Run the WSGI application on a whole request, and gather its whole answer."""
    answer = WholeAnswer()

    def start_response(
        status: str, headers: list[tuple[str, str]], exc_info: object = None, /
    ) -> Callable[[bytes], object]:
        answer.status = int(status.split(" ", 1)[0])
        answer.headers = [(name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers]
        return written.append

    written: list[bytes] = []
    environ.pop("HTTP_TRANSFER_ENCODING", None)
    environ |= {"wsgi.input": BytesIO(body), "CONTENT_LENGTH": str(len(body))}
    pieces = application(environ, start_response)
    try:
        answer.body = b"".join([*written, *pieces])
    finally:
        if close := getattr(pieces, "close", None):
            close()
    return answer
