"""How far a chain has grown over its pitch, and the usual limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref.domain.evidence import Scored
from xref.domain.query import Query

WORN_OUT = 2.0
"""Per cent over the new length at which a chain is usually scrapped. Common practice, no published
source."""
FIXED_CENTRES = 0.8
"""The same where the centres cannot be moved apart. Common practice, no published source."""
MOST = 4.0
"""Per cent beyond which it is another pitch sooner than a worn chain. Judged."""
LEAST_OVER = 5
"""Links over which a chain must be measured for its wear to show. Judged."""


def chain_wear(query: Query, likely: Sequence[Scored]) -> Iterator[str]:
    """By how many per cent the likeliest chain reads long, where its pitch was measured over
    several links; nothing for other parts, and for what reads short."""
    pitch = query.sizes.get("pitch")
    chain = next((s.part for s in likely if s.part.kind == "chain"), None)
    if pitch is None or chain is None or "pitch" not in chain.sizes:
        return
    new = chain.sizes["pitch"].value
    grown = 100 * (pitch.value - new) / new
    # What the tool and the hand are off over the whole length is shared by the links already.
    doubt = 100 * (pitch.error + pitch.hand) / new
    if not doubt < grown <= MOST:
        return
    if doubt > FIXED_CENTRES / 2:
        yield (
            f"The pitch reads {grown:.1f} % long, measured too short a way to tell wear: measure "
            f"over ten links pulled tight (pitch=127.6mm/10)."
        )
        return
    if grown >= WORN_OUT:
        verdict = f"worn out, the usual limit is {WORN_OUT:g} %"
    elif grown >= FIXED_CENTRES:
        verdict = (
            f"within the usual limit of {WORN_OUT:g} %, but worn out where the centres are fixed, "
            f"whose limit is {FIXED_CENTRES:g} %"
        )
    else:
        verdict = f"within the usual limits of {WORN_OUT:g} %, {FIXED_CENTRES:g} % on fixed centres"
    yield (
        f"As {chain.number} it has grown by {grown:.1f} %: {verdict} (common practice, no "
        f"published source)."
    )
