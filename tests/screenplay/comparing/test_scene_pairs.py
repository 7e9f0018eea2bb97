"""Which scenes have to do with each other, judged by the lines placed so far."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from screenplay import parse
from screenplay.comparing.draft_lines import DraftLines
from screenplay.comparing.scene_pairs import ScenePairs
from tests.screenplay.comparing.test_comparison_laws import two_drafts


@settings(max_examples=50)
@given(two_drafts(), st.data())
def test_a_scene_is_in_company_where_it_is_compatible_with_one_of_the_other_draft(
    drafts: tuple[str, str], data: st.DataObject
) -> None:
    old, new = (DraftLines(parse(text)) for text in drafts)
    for i in data.draw(st.sets(st.integers(0, len(old) - 1) if len(old) else st.nothing())):
        j = data.draw(st.integers(-1, len(new) - 1))
        if j >= 0 and new.partner[j] < 0:
            old.partner[i], new.partner[j] = j, i
    pairs = ScenePairs(old, new)
    scenes, partners = (data.draw(st.sets(st.sampled_from([*draft.scenes, 0]))) for draft in (old, new))

    left, right = pairs.in_company(scenes, partners)
    assert left == {scene for scene in scenes if any(pairs.compatible(scene, partner) for partner in partners)}
    assert right == {partner for partner in partners if any(pairs.compatible(scene, partner) for scene in scenes)}
