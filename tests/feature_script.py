"""A script as long as a film's, made of a few words: scenes of a page or so, with action and speeches."""

from __future__ import annotations

import random

PLACES = ("FERRY", "PIER", "BOATHOUSE", "HARBOUR OFFICE", "ENGINE ROOM", "CHAPEL", "NET LOFT", "SLIPWAY", "KITCHEN")
TIMES = ("DAY", "NIGHT", "DAWN")
NAMES = ("NELL", "TOBIAS", "WENNA", "OSWIN", "ISOLDE", "MARLOCK", "BERTRAND", "TAMSIN", "HARBOUR MASTER", "DIVER")
WORDS = (
    "rain",
    "on",
    "the",
    "slip",
    "and",
    "a",
    "lamp",
    "swings",
    "above",
    "nets",
    "somebody",
    "counts",
    "tide",
    "dawn",
)
SCENES_A_PAGE = 1.56  # so that a hundred and twenty pages asked for are about as many on paper


def feature_script(pages: int, seed: int = 1) -> str:
    """A script of about so many pages, the same for the same seed."""
    rng = random.Random(seed)
    parts = ["Title: Slack Water\nAuthor: Ada Wren\n\n"]
    for _ in range(int(pages * SCENES_A_PAGE)):
        parts.append(f"{rng.choice(('INT.', 'EXT.'))} {rng.choice(PLACES)} - {rng.choice(TIMES)}\n\n")
        for _ in range(rng.randint(2, 7)):
            parts.append(f"{_sentence(rng, 8, 30)}\n\n")
            parts += [f"{rng.choice(NAMES)}\n{_sentence(rng, 4, 18)}\n\n" for _ in range(rng.randint(0, 2))]
    return "".join(parts)


def _sentence(rng: random.Random, least: int, most: int) -> str:
    return " ".join(rng.choice(WORDS) for _ in range(rng.randint(least, most))).capitalize() + "."
