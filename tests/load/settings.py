"""The app's own settings, and an address more: a bare page, for what its answers take to be set beside."""

from __future__ import annotations

from project.settings import *  # noqa: F403 - all of them

ROOT_URLCONF = "tests.load.urls"
