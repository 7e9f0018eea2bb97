"""What has to be said wherever cautions, or notes about safety, are shown: how they were found, and who looks first."""

from __future__ import annotations

ASSESS_FIRST = (
    "A competent person must assess the work before anyone does it; local law, codes, permits and licensed practice "
    "come first."
)
CAUTION_SENSE = (
    "Cautions, and words for departments, are found by a list of words. This is not a risk assessment, and it can miss "
    f"things. {ASSESS_FIRST}"
)
