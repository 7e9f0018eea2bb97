#!/usr/bin/env python3
"""The way in from the command line: `manage.py serve`, `manage.py inspect`, `manage.py compare`."""

from __future__ import annotations

import gc
import os
import sys

from review.serving.deep_calls import in_one_piece


@in_one_piece
def main() -> None:
    os.umask(0o077)  # whatever is made here is its owner's alone
    gc.set_threshold(50_000)  # at Python's own 700, looking for garbage that there is none of is a sixth of a start
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")
    from django.core.exceptions import ImproperlyConfigured  # noqa: PLC0415 - after what is set above
    from django.core.management import execute_from_command_line  # noqa: PLC0415 - as above

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as problem:  # a setting of the environment, told in one sentence
        sys.exit(str(problem))


if __name__ == "__main__":
    main()
