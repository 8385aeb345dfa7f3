"""Which names on record a new one may be mistyped from."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from xref.domain.new_name import NewName

MOST_NEAR = 3
_SAME_WORDS = 85
"""Names whose words in order of the alphabet are this much alike, of 100, are near. Judged."""


def new_name(what: str, name: str, known: Iterable[str]) -> NewName:
    """``name`` as a new one beside the ``known`` names."""
    return NewName(what, name, near_names(name, known))


def near_names(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """At most MOST_NEAR of ``known`` that ``name`` may be mistyped from, likest first."""
    flat = {other: _flat(other) for other in known}
    wanted = _flat(name)
    found: dict[str, float] = {}
    most = min(3, (len(wanted) + 1) // 3)
    for _, apart, other in process.extract(
        wanted, flat, scorer=OSA.distance, limit=MOST_NEAR, score_cutoff=most
    ):
        found[other] = apart
    if len(wanted.split()) > 1:
        for _, alike, other in process.extract(
            wanted, flat, scorer=fuzz.token_sort_ratio, limit=MOST_NEAR, score_cutoff=_SAME_WORDS
        ):
            found.setdefault(other, (100 - alike) / 4)
    return tuple(sorted(found, key=lambda other: (found[other], other))[:MOST_NEAR])


def _flat(name: str) -> str:
    return " ".join(name.casefold().split())
