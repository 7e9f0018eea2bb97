"""Whether the word lists can read a draft: they know English alone, and nothing found in another language is no answer.

Told where cautions are shown, on screens, sheets and in files.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from review.drafts.scripts import read_script
from review.kept import kept
from screenplay.breakdown import reads_as_english

if TYPE_CHECKING:
    from review.drafts.models import Draft, TextKey

NOT_READ = (
    "The lists know English words alone, and this script is not in English: what they find in it is chance, and they "
    "miss nearly all. A scene without a caution is not clear of them; somebody who knows the language must read every "
    "scene for them."
)


def language_sense(draft: Draft) -> str:
    """What to say where cautions of a draft are shown, "" where its production's settings and its own words are
    English."""
    is_english = draft.production.script_language.partition("-")[0].casefold() == "en"
    return "" if is_english and _reads_as_english(draft.text_key) else NOT_READ


def _weigh(_told: bool) -> int:
    return 100


@kept(_weigh)
def _reads_as_english(text: TextKey) -> bool:
    return reads_as_english(read_script(text.draft))
