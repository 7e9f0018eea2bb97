"""Whether an 's is a verb or a possessive, by the words that follow it: "nobody's here", and "nobody's business"."""

from __future__ import annotations


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_MAY_FOLLOW_HAVE = _set(
    "not never always just already only ever also still really all both long often now once recently finally probably "
    "actually truly almost nearly barely hardly simply"
)
_IRREGULAR_PARTICIPLES = _set(
    "been become begun bent bet bitten bled blown born bought bound bred broken brought built burnt burst cast "
    "caught chosen clung come cost crept cut dealt done drawn dreamt driven drunk dug eaten fallen fed felt flown "
    "forbidden forgiven forgot forgotten fought found frozen given gone got gotten grown had heard held hidden "
    "hit hung hurt kept knelt known laid lain leant leapt learnt led left lent let lit lost made meant met "
    "mistaken paid proven put quit read ridden risen run rung said sat seen sent set sewn shaken shed shone shot "
    "shown shrunk shut slain slept slid smelt sold sought spat spent spilt split spoken spread sprung spun stolen "
    "stood struck stuck stung sung sunk sworn swept swollen swum swung taken taught thought thrown told torn "
    "understood woken won worn wound woven written"
)
_NO_PARTICIPLES = _set("bed deed feed hundred indeed naked need red sacred seed speed weed")
# What follows "is" or "has", and no possessive: "nobody's here", "something's not right".
_AFTER_IS = _set(
    "a about above afraid against alive all almost alone already always an angry around asleep at awake away back "
    "before behind below beside better between by crazy dead different down due ever everywhere far fast fine for "
    "from good here home in inside into just late like mine my naked nervous never no not off ok okay on out outside "
    "over ready right safe sick so still sure the there through to too unconscious under up upset very with without "
    "wrong yours"
)
# What nobody has without being there: not Desmond's cap, but Desmond's hand.
OF_SOMEBODY_THERE = _set(
    "arm arms back belly body breath brow cheek cheeks chest chin ear ears elbow elbows expression eye eyes eyelids "
    "face feet finger fingers fingertips fist fists foot footstep footsteps forearm forearms forehead gaze glance grip "
    "hair hand hands head heart heel heels hip hips jaw knee knees knuckles lap leg legs lip lips mouth neck nose palm "
    "palms reflection shadow shoulder shoulders silhouette skin sleeve sleeves smile stomach throat thumb thumbs toes "
    "tongue waist wrist wrists"
)


def follows_is_or_has(said: list[str], position: int) -> bool:
    """Whether what stands at `position` goes with a verb, and is nothing that anybody could have."""
    word = said[position] if position < len(said) else ""
    return word in _AFTER_IS or (len(word) > 4 and word.endswith("ing")) or is_participle(said, position)


def is_participle(said: list[str], position: int) -> bool:
    """Whether a participle stands at `position`, or behind adverbs there."""
    while position < len(said) and said[position] in _MAY_FOLLOW_HAVE:
        position += 1
    word = said[position] if position < len(said) else ""
    return word in _IRREGULAR_PARTICIPLES or (len(word) > 3 and word.endswith("ed") and word not in _NO_PARTICIPLES)
