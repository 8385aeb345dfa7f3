"""Which candidates are not offered: those that only sizes speak for, where size must not decide."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from xref.domain.evidence import MARKS, Topic
from xref.domain.query import Query
from xref.services.identify.weigh import Weighed
from xref.services.parts.cautioning import never_by_size_of
from xref.services.parts.cautions import never_by_size

NAMED_BY_SIZE = ("pin", "thread", "key", "washer", "retaining ring", "other")
"""Kinds whose standard designation says no more than a size: a mark of it is a size too."""
WORTH_ASKING = 0.001
"""Odds below which it is not looked up what a part stands in for. Judged."""


def withheld_of(
    conn: Connection, weighed: Sequence[Weighed], odds: Sequence[float], query: Query
) -> set[int]:
    """Places of the candidates that must not be offered.

    The user's own words count as much as those of the part: where they ask for what is never
    chosen by size, nothing is offered but what a mark speaks for, and no standard size at all.
    """
    if never_by_size(query.words):
        return {i for i, w in enumerate(weighed) if not _own_by_mark(w, query)}
    if not query.sizes:
        return set()
    unmarked = [i for i, w in enumerate(weighed) if not _by_mark(w)]
    likely = [i for i in unmarked if odds[i] >= WORTH_ASKING]
    never = never_by_size_of(conn, [weighed[i].scored.part for i in likely])
    linked = {i for i, not_so in zip(likely, never, strict=True) if not_so}
    return linked | {i for i in unmarked if never_by_size(weighed[i].scored.part.words)}


def _own_by_mark(weighed: Weighed, query: Query) -> bool:
    """Whether a part may be offered to one who asks for what is never chosen by size."""
    part = weighed.scored.part
    if part.is_standard and (part.kind in NAMED_BY_SIZE or query.kind not in ("", part.kind)):
        return False
    return _by_mark(weighed) or not (query.sizes or part.is_standard)


def _by_mark(weighed: Weighed) -> bool:
    """Whether what is on the metal speaks for the part."""
    return weighed.scored.bits_about(*MARKS, Topic.CAST) > 0
