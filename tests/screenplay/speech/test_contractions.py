"""Contractions told from what only looks like one, and the places that could have contracted, by hand."""

from __future__ import annotations

import pytest

from tests.counted_contractions import count_contractions


@pytest.mark.parametrize(
    "form",
    [
        *("I'm", "you're", "we're", "they're", "he's", "she's", "it's", "that's", "there's", "here's", "who's"),
        *("what's", "where's", "when's", "how's", "why's", "let's", "I'll", "they'll", "it'll", "I'd", "who'd", "we'd"),
        *("I've", "we've", "could've", "should've", "might've", "must've", "don't", "doesn't", "didn't", "isn't"),
        *("aren't", "wasn't", "weren't", "haven't", "hasn't", "hadn't", "won't", "wouldn't", "can't", "couldn't"),
        *("shouldn't", "mustn't", "mightn't", "needn't", "shan't", "oughtn't", "daren't", "ain't", "'tis", "'twill"),
        *("couldn't've", "I'd've", "'twas", "'Twould", "y'all", "y'all'd", "c'mon", "where're", "what're", "how're"),
        *("how'd", "where'd", "why'd", "what'd"),
    ],
)
@pytest.mark.parametrize("apostrophe", ["'", "’"])
def test_a_contraction_is_one_with_either_apostrophe_in_any_case(form: str, apostrophe: str) -> None:
    for spelled in (form, form.upper(), form.capitalize()):
        assert count_contractions(f"Well, {spelled.replace(chr(39), apostrophe)} so.") == (1, 0)


@pytest.mark.parametrize(
    "said",
    [
        "Mara's net",  # a possessive
        "the ferry's last night",
        "the boys' boat",
        "its own keel",
        "nobody's business",
        "everybody's boat",
        "someone's wet coat",
        "one's own",
        "o'clock",
        "ma'am",
        "get 'em",
        "goin' home",
        "gonna go",
        "rock 'n' roll",
        "he appear'd and walk'd",
        "well, ill, hell, wed, shed, were, id, lets, cant, wont",  # words that a contraction without its mark is
    ],
)
def test_what_only_looks_like_a_contraction_counts_for_nothing(said: str) -> None:
    assert count_contractions(said) == (0, 0)


@pytest.mark.parametrize(
    "said",
    [
        "Won't you",
        "isn't it",
        "aren't I",
        "where's he gone",
        "Everybody's got one",
        "nobody's here",
        "something's wrong",
        "everyone's going",
        "someone's been here",
        "nobody's ever seen it",
        "somebody's at the door",
        "nothing's the same",
    ],
)
def test_a_contraction_is_told_by_what_follows_it(said: str) -> None:
    assert count_contractions(said) == (1, 0)
    assert count_contractions(f"“{said.upper()}!”") == (1, 0)


@pytest.mark.parametrize(
    "said",
    [
        "I do not know",
        "Do not go",
        "Cannot go",
        "I am cold",
        "it is cold",
        "It is not cold",
        "you are late",
        "we are not late",
        "they would go",
        "they would have gone",
        "the men would have gone",
        "I have gone",
        "she has never once been here",
        "you had better run",
        "they had gone",
        "who has taken it",
        "I will wait",
        "we shall see",
        "I will not wait",
        "the tide will not wait",
        "I cannot",
        "I can not",
        "it could not have been",
        "let us go",
        "that is the boat",
        "there is a boat",
        "where is she",
        "what is it",
        "who is there",
        "I did not",
        "will you not",
        "do you not see",
        "is it not",
        "am I not",
        "why could they not wait",
        "where are you",
        "how are they",
        "how did you know",
        "where did it go",
        "where has he gone",
        "what have they done",
        "nobody is here",
        "everybody has got one",
        "something is wrong",
        "everyone is going",
        "someone has been here",
        "they ought not to",
        "you need not",
    ],
)
def test_a_full_form_that_could_contract_is_one_place(said: str) -> None:
    assert count_contractions(said) == (0, 1)
    assert count_contractions(f"“{said.upper()}!”") == (0, 1)


@pytest.mark.parametrize(
    "said",
    [
        "Yes, I am.",
        "Here it is, then.",
        "so they are",
        "They say they will, and they are and will be",
        "You know who I am",
        "I have a boat",
        "you have to go",
        "she has the oars",
        "we had lunch",
        "the boat is gone",  # after a noun it would be Mara's: both ways left out
        "Nell will come",
        "are you cold",
        "will you go, not me",
        "everybody has a boat",
        "nobody is, and so on",
        "what did",
        "not I",
        "why not",
        "he needs me and I need a hundred feet",
        "I. Am. Cold.",
    ],
)
def test_a_full_form_that_could_not_contract_is_no_place(said: str) -> None:
    assert count_contractions(said) == (0, 0)


def test_a_passage_counted_by_hand() -> None:
    said = "\n".join(
        [
            "I'm not staying. It is Mara's boat and it isn't mine.",  # I'm, isn't; It is
            "They would have sold her. She'd have burnt her first.",  # She'd; They would
            "You are right, I'll say that. That I will.",  # I'll; You are
            "Don't. Do not. You can't know what it is.",  # Don't, can't; Do not
        ]
    )
    assert count_contractions(said) == (6, 4)


def test_nothing_said_contracts_nothing() -> None:
    assert count_contractions("") == (0, 0)
    assert count_contractions("\n\n'") == (0, 0)
