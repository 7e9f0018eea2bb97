"""Static files as `serve` hands them out: under names that change with what is in them, so that browsers keep them for
good, and compressed beforehand."""

from __future__ import annotations

from whitenoise.storage import CompressedManifestStaticFilesStorage

# How our modules name each other, and how Django writes it with another name in it.
IMPORTS = (
    (
        r"""(?P<matched>import(?P<names>\s[^;"]*?)\sfrom\s"(?P<url>\./[\w-]+\.js)";)""",
        """import%(names)s from "%(url)s";""",
    ),
    (r"""(?P<matched>import\s"(?P<url>\./[\w-]+\.js)";)""", """import "%(url)s";"""),
)


class HashedFiles(CompressedManifestStaticFilesStorage):  # type: ignore[misc]  # the library has no types
    """Modules name each other by such names too. Those of packages are none, or name what is not here."""

    patterns = (*CompressedManifestStaticFilesStorage.patterns, ("js/*.js", IMPORTS))
