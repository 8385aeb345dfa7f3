"""The second cut: of what the scan lets through, the texts nearest to the reading.

Edit distance on the raw text and on the skeleton together, by RapidFuzz, with weights in the rough
proportion of the channel model's: a character passed over costs 3 + 3, one misread or added 5 + 5,
a look-alike 5. The channel model then ranks what is left.
"""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz.distance import OSA, Levenshtein

from xref.domain.mark import Mark
from xref.domain.number import skeleton

WEIGHTS = (3, 5, 5)
"""Passed over, added, misread. Judged: half of what they cost in nats, and rounded."""
SWAPPED = 3
"""What two neighbours that are swapped cost. Judged."""
END_GONE = 4.5
"""What a worn end costs. Judged."""
WINDOW = 28.0
"""What lies so much farther than the nearest, near three faults, has no say beside it. Judged."""
EQUALS = 4
"""How many times as many are let through where all are as near as the last. Judged."""
TAIL_CUT = 20
"""What the beginning of a mark may cost before a suffix. Judged."""


def nearest(mark: Mark, texts: Sequence[str], most: int) -> list[int]:
    """Places in ``texts`` (folded) of the ``most`` nearest to the mark, nearest first.

    More than ``most`` where others are as near as the last, up to ``EQUALS`` times as many.
    """
    pieces = _pieces(mark)
    if len(pieces) == 1:
        costs = _whole(pieces[0], texts)
    else:
        parts = [_to_end(pieces[0], texts, last=False), _to_end(pieces[-1], texts, last=True)]
        parts += [_anywhere(piece, texts) for piece in pieces[1:-1]]
        costs = [sum(each) for each in zip(*parts, strict=True)]
    if not costs:
        return []
    ranked = sorted(range(len(costs)), key=costs.__getitem__)
    last = min(costs[ranked[0]] + WINDOW, costs[ranked[:most][-1]])
    return [at for at in ranked[: EQUALS * most] if costs[at] <= last]


def _pieces(mark: Mark) -> list[str]:
    """The stretches between lost ones; "" at an end where the mark begins or ends with one."""
    pieces = [""]
    for sign in mark.signs:
        if sign.lost:
            pieces.append("")
        else:
            pieces[-1] += sign.chars[:1] or "?"
    return pieces


def _both(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance of the raw texts plus distance of the skeletons."""
    bones = skeleton(piece)
    return [_distance(piece, text) + _distance(bones, skeleton(text)) for text in texts]


def _distance(piece: str, text: str) -> float:
    weighed = Levenshtein.distance(piece, text, weights=WEIGHTS)
    if len(piece) != len(text):
        return weighed
    return min(weighed, SWAPPED + WEIGHTS[2] * (OSA.distance(piece, text) - 1))


def _whole(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance to each text, or to the stretch of it that is left where its ends are worn."""
    size = len(piece)
    costs = _both(piece, texts)
    longer = [at for at, text in enumerate(texts) if len(text) > size]
    among = [texts[at] for at in longer]
    worn = zip(
        longer,
        _both(piece, [t[:size] for t in among]),
        _both(piece, [t[-size:] for t in among]),
        _inside(piece, among),
        strict=True,
    )
    for at, first, last, inside in worn:
        costs[at] = min(costs[at], END_GONE + min(first, last, END_GONE + inside))
    return costs


def _to_end(piece: str, texts: Sequence[str], last: bool) -> list[float]:
    """Distance of the piece to as much of each text, at one end."""
    size = len(piece)
    if not size:
        return [0.0] * len(texts)
    return _both(piece, [t[-size:] if last else t[:size] for t in texts])


def _inside(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance of the piece to the nearest stretch of each text with something at both sides."""
    size = len(piece)
    best = [10.0 * size] * len(texts)
    for at, text in enumerate(texts):
        for start in range(1, len(text) - size):
            stretch = text[start : start + size]
            if stretch[0] == piece[0] or stretch[-1] == piece[-1]:
                best[at] = min(best[at], *_both(piece, [stretch]))
    return best


def _anywhere(piece: str, texts: Sequence[str]) -> list[float]:
    """Distance of the piece to the nearest stretch of each text, its ends among them."""
    size = len(piece)
    best = _both(piece, [text[:size] for text in texts])
    for at, text in enumerate(texts):
        stretches = [text[start : start + size] for start in range(1, len(text) - size + 1)]
        best[at] = min([best[at], *_both(piece, stretches)])
    return best


def nearest_before_tail(mark: Mark, texts: Sequence[str], most: int) -> list[int]:
    """Places of the texts nearest to the beginning of the mark, of equals the longest first."""
    flat = "".join(sign.chars[:1] or "?" for sign in mark.signs if not sign.lost)
    bones = skeleton(flat)
    ranked = []
    for at, text in enumerate(texts):
        size = len(text)
        if size < len(flat):
            cost = _distance(flat[:size], text) + _distance(bones[:size], skeleton(text))
            if cost <= TAIL_CUT:
                ranked.append((cost, -size, at))
    return [at for _, _, at in sorted(ranked)[:most]]
