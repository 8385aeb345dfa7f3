"""The second cut: of what the scan lets through, the texts nearest to the reading.

Plain edit distance on the raw text and on the skeleton together, by RapidFuzz: a look-alike costs
half of another fault there. The channel model then ranks what is left.
"""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import process
from rapidfuzz.distance import OSA

from xref.domain.mark import Mark
from xref.domain.number import skeleton

END_GONE = 1.5
"""What a worn end costs here, where a fault that is no look-alike costs 2. Judged."""
TAIL_CUT = 4


def nearest(mark: Mark, texts: Sequence[str], most: int) -> list[int]:
    """Places in ``texts`` (folded) of the ``most`` nearest to the mark, nearest first."""
    costs = [0.0] * len(texts)
    pieces = _pieces(mark)
    if len(pieces) == 1:
        costs = _whole(pieces[0], texts)
    else:
        _add(costs, _to_end(pieces[0], texts, last=False))
        _add(costs, _to_end(pieces[-1], texts, last=True))
        for piece in pieces[1:-1]:
            _add(costs, _inside(piece, texts))
    return sorted(range(len(texts)), key=costs.__getitem__)[:most]


def _pieces(mark: Mark) -> list[str]:
    """The stretches between lost ones; "" at an end where the mark begins or ends with one."""
    pieces = [""]
    for sign in mark.signs:
        if sign.lost:
            pieces.append("")
        else:
            pieces[-1] += sign.chars[:1] or "?"
    return pieces


def _add(costs: list[float], more: Sequence[float]) -> None:
    for at, cost in enumerate(more):
        costs[at] += cost


def _both(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance of the raw texts plus distance of the skeletons."""
    total = [0.0] * len(texts)
    for wanted, among in ((piece, texts), (skeleton(piece), [skeleton(t) for t in texts])):
        for _, cost, at in process.extract(wanted, among, scorer=OSA.distance, limit=None):
            total[at] += cost
    return total


def _whole(piece: str, texts: Sequence[str]) -> list[float]:
    size = len(piece)
    whole = _both(piece, texts)
    ends = [_both(piece, [t[:size] for t in texts]), _both(piece, [t[-size:] for t in texts])]
    return [
        min(cost, END_GONE + min(front, back)) if len(text) > size else cost
        for text, cost, front, back in zip(texts, whole, *ends, strict=True)
    ]


def _to_end(piece: str, texts: Sequence[str], last: bool) -> list[float]:
    """Distance of the piece to as much of each text, at one end."""
    size = len(piece)
    if not size:
        return [0.0] * len(texts)
    return _both(piece, [t[-size:] if last else t[:size] for t in texts])


def _inside(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance of the piece to the nearest stretch of each text."""
    size = len(piece)
    longest = max(map(len, texts), default=0)
    best = [2.0 * size] * len(texts)
    for start in range(max(1, longest - size + 1)):
        here = _both(piece, [t[start : start + size] for t in texts])
        best = [min(a, b) for a, b in zip(best, here, strict=True)]
    return best


def nearest_before_tail(mark: Mark, texts: Sequence[str], most: int) -> list[int]:
    """Places of the texts nearest to the beginning of the mark, of equals the longest first."""
    flat = "".join(sign.chars[:1] or "?" for sign in mark.signs if not sign.lost)
    bones = skeleton(flat)
    ranked = []
    for at, text in enumerate(texts):
        size = len(text)
        if size < len(flat):
            cost = OSA.distance(flat[:size], text) + OSA.distance(bones[:size], skeleton(text))
            if cost <= TAIL_CUT:
                ranked.append((cost, -size, at))
    return [at for _, _, at in sorted(ranked)[:most]]
