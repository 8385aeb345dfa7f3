"""Lists in columns of a fixed width: text whose cells are parted by blanks, each at its place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from xref.sheets.headings import known_words
from xref.sheets.lines import is_foot

LEAST_LINES = 3
"""Lines that such a list has at least, its heading among them. Judged."""

LINES_AN_OVERFLOW = 8
"""Of so many lines one may have a cell that is longer than its column. Judged."""

_GAP = re.compile(r"\s{2,}")
_RULE = re.compile(r"[-=_+|\s]+")


def columns_of(lines: Sequence[str]) -> tuple[int, ...]:
    """Where the columns of a list begin, in characters from 0; () where it has no such columns.

    They begin where every line from the heading on is blank before them, two blanks wide in the
    heading or in the rows.
    """
    best = max(range(len(lines)), key=lambda at: _known(lines[at]), default=0)
    if not lines or _known(lines[best]) < 2 or len(lines) - best < LEAST_LINES:
        return ()
    heading = lines[best].rstrip("\r\n").expandtabs()
    body = [line.rstrip("\r\n").expandtabs() for line in lines[best:]]
    body = [line for line in body if line.strip() and not _RULE.fullmatch(line)]
    whole = [line for line in body if len(_GAP.split(line.strip())) > 1]
    if len(whole) < LEAST_LINES:
        return ()
    wide = max(map(len, whole))
    # A cell that is longer than its column must not make one of two.
    over = len(whole) // LINES_AN_OVERFLOW
    blank = [
        sum(at < len(line) and line[at] != " " for line in whole) <= over
        and heading[at : at + 1] in ("", " ")
        for at in range(wide)
    ]
    starts = [at for at in range(wide) if not blank[at] and (at == 0 or blank[at - 1])]
    starts = [at for at in starts if at == 0 or (at < len(heading) and _opens(heading, at))]
    return tuple(starts) if len(starts) > 1 else ()


def _known(line: str) -> int:
    return known_words(_GAP.split(line.strip())) if not re.search(r"[,;\t|]", line) else 0


def _opens(heading: str, at: int) -> bool:
    """Whether the heading has a title of its own from ``at`` on, two blanks before it."""
    return heading[max(0, at - 2) : at].strip() == "" or heading[at : at + 1].strip() == ""


def cut(line: str, starts: Sequence[int]) -> list[str]:
    """The cells of a line; one that stands alone at its beginning is not cut."""
    flat = line.rstrip("\r\n").expandtabs()
    if _RULE.fullmatch(flat):
        return [""] * len(starts)
    inside = [at for at in starts[1:] if at < len(flat)]
    crossed = [at for at in inside if flat[at - 1] != " "]
    if len(crossed) > 1 or len(crossed) == len(inside) > 0 or is_foot(flat):
        return [flat.strip(), *[""] * (len(starts) - 1)]
    if crossed:
        # The cell before goes on to its end; what follows it is the next column's.
        end = re.search(r"\s{2,}|$", flat[crossed[0] :])
        ended = crossed[0] + (end.start() if end else 0)
        starts = [at if at < crossed[0] else max(at, ended) for at in starts]
    ends = [*starts[1:], max(len(flat), starts[-1])]
    return [flat[start:end].strip() for start, end in pairwise([*starts, ends[-1]])]
