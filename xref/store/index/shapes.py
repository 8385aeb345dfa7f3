"""The shapes of each maker's numbers, kept among the population's figures."""

from __future__ import annotations

from collections import Counter

from sqlalchemy import Connection, select

from xref.domain.number import key
from xref.domain.shape import DIGIT, GAP, LETTER, shape
from xref.store.tables.tables import maker, part, source, source_title, tally

SHAPE = "shape"
MOST_LOOKED_AT = 400
"""Numbers whose sources are counted. Judged."""
MOST_TITLES = 2
"""Sources that are named."""


def known_shapes(conn: Connection) -> list[tuple[str, str, float]]:
    """Maker, shape, and how many numbers of the user's own parts have it."""
    rows = conn.execute(select(tally.c.value, tally.c.weight).where(tally.c.what == SHAPE))
    found = []
    for value, count in rows:
        form, _, name = value.partition("|")
        found.append((name, form, float(count)))
    return found


def sources_of_shape(conn: Connection, maker_name: str, form: str) -> list[str]:
    """The sources that most numbers of this maker and shape are from, at most two."""
    pattern = "".join("_" if c in (LETTER, DIGIT, GAP) else c for c in form)
    query = (
        select(part.c.number, source_title)
        .join(maker, maker.c.id == part.c.maker_id)
        .join(source, source.c.id == part.c.source_id)
        .where(maker.c.key == (key(maker_name) if maker_name else ""))
        .where(part.c.number.like(pattern))
        .limit(MOST_LOOKED_AT)
    )
    counts = Counter(text.strip() for number, text in conn.execute(query) if shape(number) == form)
    return [text for text, _ in counts.most_common(MOST_TITLES)]
