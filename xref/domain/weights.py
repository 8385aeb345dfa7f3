"""How much each part counts before anything has been seen: the *start* in bits. All judged."""

from __future__ import annotations

ORIGIN_STORE = "store"
ORIGIN_STANDARD = "standard"

OWN_PART = 4.0
"""A part the user wrote down is likelier on the user's bench than any one standard size. Judged."""

TWO_TABLES = 1.0
"""A standard size printed in two or more independent tables. Judged."""

ONE_TABLE = 0.5
"""A standard size known from one table only. Judged."""

OTHER_SYSTEM = 0.1
"""A number read in another numbering system (GOST 3189 for a bearing numbered to ISO). Judged."""


def part_weight(origin: str, tables_agreeing: int) -> float:
    """The prior weight of a part from its origin and the number of tables that agree on it."""
    if origin == ORIGIN_STORE:
        return OWN_PART
    return TWO_TABLES if tables_agreeing >= 2 else ONE_TABLE
