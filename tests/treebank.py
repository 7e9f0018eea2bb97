"""English taken apart by the Penn Treebank's conventions, as `nltk` from PyPI has them."""

from __future__ import annotations

import sys
from functools import cache
from typing import Any
from unittest.mock import patch


def treebank_words(text: str) -> list[str]:
    """The words of a text, each with what is parted off it as one of its own."""
    words: list[str] = _tokenizer().tokenize(text)
    return words


@cache
def _tokenizer() -> Any:
    """Without what `nltk` imports to look for collocations, and only once it is asked for: every process that collects
    the tests would wait a second for it."""
    import numpy as np  # noqa: F401 - which can be imported but once

    with patch.dict(sys.modules, scipy=None):
        from nltk.tokenize import TreebankWordTokenizer
    return TreebankWordTokenizer()
