"""What an open page asks with: since when, and which page of the script is in view."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from django import forms
from django.utils import timezone

from review.news.happened import KEY_LENGTH, OVERLAP
from review.news.present import PageInView

MOST_LINES = 1_000_000
MOST_DRAFTS = 1_000_000
FIRST_DAY = datetime(2020, 1, 1, tzinfo=UTC)  # before there was anything to be told


def a_while_ago() -> datetime:
    """Since when a page is told that asks now, by the minute: so pages that ask at about the same time ask the same."""
    return (timezone.now() - OVERLAP).replace(second=0, microsecond=0)


class NewsForm(forms.Form):
    """`since` is in milliseconds of the epoch, and came from the server; without one, it is a while ago. `after` is the
    key of the latest act that the page has been told of."""

    after = forms.CharField(required=False, max_length=KEY_LENGTH)
    since = forms.IntegerField(required=False)
    draft = forms.IntegerField(required=False, min_value=1, max_value=MOST_DRAFTS)
    first = forms.IntegerField(required=False, min_value=1, max_value=MOST_LINES)
    last = forms.IntegerField(required=False, min_value=1, max_value=MOST_LINES)

    def clean_since(self) -> int:
        since: int | None = self.cleaned_data["since"]
        if since is None:
            return _milliseconds(a_while_ago())
        return min(max(since, _milliseconds(FIRST_DAY)), _milliseconds(timezone.now()))

    @property
    def moment(self) -> datetime:
        """Since when, as the log has it."""
        return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=self.cleaned_data["since"])

    @property
    def next_since(self) -> int:
        """Since when the page is to ask once it has been told: of what is longer ago it has heard by then."""
        since: int = self.cleaned_data["since"]
        return max(since, _milliseconds(a_while_ago()))

    @property
    def page(self) -> PageInView | None:
        """The page that is in view; None where none is told of."""
        told = [self.cleaned_data[name] for name in ("draft", "first", "last")]
        return None if None in told else PageInView(*told)


def _milliseconds(moment: datetime) -> int:
    return int(moment.timestamp() * 1000)
