"""Sizes that no table has but a rule makes: inch seals by sixteenths, round O-rings, inch bushes.

They are made when the measured sizes ask for them, are less likely than rows of a table, and are
told as made "by rule, no table known".
"""

from __future__ import annotations

from xref.domain.part import BOUNDARY, Part, Spelling
from xref.domain.query import Query
from xref.domain.size import NM_PER_MM
from xref.services.identify.evidence.sizes import stored_name
from xref.standards.by_rule import BY_RULE, MadeToRule, made_to_rule

ORIGIN_RULE = "rule"
"""Where a candidate is from that stands in no table: made by a rule for such parts."""
BESIDE_A_ROW = 2.0
"""The weight of an entry against its own (0.1 to 0.3 of a row): what was measured lies on the steps
of the rule, so most of what would be none of these is one of them. Judged."""
REACH = {"bore": 2 * NM_PER_MM, "outside": NM_PER_MM}
"""How far from a reading an entry is looked for, in nanometres: a free lip is smaller than its
shaft and a loose rim larger than its bore, by a millimetre or so. Judged."""
OTHERWISE = NM_PER_MM // 2
MOST = 12
KINDS = ("shaft seal", "bush", "o-ring")


def ruled(query: Query) -> list[tuple[Part, ...]]:
    """The entries by rule that the sizes of ``query`` lie near, as things of one record."""
    if query.marks or query.casts or query.kind not in ("", *KINDS):
        return []
    sizes = {name: r.value for name, r in query.sizes.items() if not r.counted}
    if len(sizes) < 2:
        return []
    own = stored_name(query.kind, BOUNDARY, "length")
    if own and "length" in sizes and own not in sizes:
        sizes[own] = sizes.pop("length")
    within = {name: REACH.get(name, OTHERWISE) for name in sizes}
    return [(_part(entry),) for entry in made_to_rule(query.kind, sizes, within)[:MOST]]


def _part(entry: MadeToRule) -> Part:
    return Part(
        entry.designation,
        entry.standard,
        entry.kind,
        f"rule::{entry.kind} {entry.designation}",
        ORIGIN_RULE,
        BESIDE_A_ROW * entry.weight,
        type=entry.type,
        words=f"{entry.words}, {BY_RULE}",
        sizes=entry.sizes,
        spellings=(Spelling(entry.designation, 1.0, "number"),),
        note=entry.note,
    )
