"""Keeps what the terminal says of a refused request to one line: there is nothing in it for anyone to trace."""

from __future__ import annotations

import logging

SERVER_ERROR = 500


class RefusalsInOneLine(logging.Filter):
    """Takes the traceback from what is logged of a request that was refused; a failure of the server keeps its own."""

    def filter(self, record: logging.LogRecord) -> bool:
        if getattr(record, "status_code", SERVER_ERROR) < SERVER_ERROR:
            record.exc_info = record.exc_text = None
        return True
