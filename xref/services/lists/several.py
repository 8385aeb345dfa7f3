"""Several names in one cell: parted, unless the store knows the cell, or a piece, as one name."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from xref.services.links.interchange import GRADES
from xref.sheets.fields import ONE_WAY, OTHER_WAY
from xref.sheets.link_cell import LinkCell, read_link_cell, read_number_cell
from xref.sheets.machine_cell import Fit, MachineCell, read_machines
from xref.sheets.remarks import says_nothing
from xref.store.write.bulk_names import BulkNames

Known = Callable[[str], bool]
"""Whether a text is one name as it stands."""

GRADED = re.compile(rf"(.+?)\s*\[({'|'.join(GRADES)})(?:, ({ONE_WAY}|{OTHER_WAY}))?\]")
"""A number with the grade of its interchange, as an export writes it."""

_OUTSIDE = r"(?![^\[\]]*\])"
_LINES = re.compile(r"[\n|]")
_TOGETHER = re.compile(r"\s(?:\+|&|and|und)\s", re.IGNORECASE)
_EITHER = re.compile(r"\s(?:or|oder)\s", re.IGNORECASE)
_SIGNS = re.compile(rf";|,(?!\d{{3}}\b){_OUTSIDE}")
"""A comma before three digits may part thousands, and one in brackets belongs to a grade."""

_STEPS = (_LINES, _TOGETHER, _EITHER, _SIGNS)
_QUOTED = re.compile(r'\s*"([^"|\n]+)"\s*')


class Several(NamedTuple):
    """``together``: "and" stood between, so that all of them are meant at once."""

    names: tuple[str, ...]
    together: bool


def numbers_in(held: BulkNames, cells: Sequence[str]) -> Several:
    """The numbers that cells name, each once, in order."""
    names: dict[str, None] = {}
    together = False
    for cell in cells:
        found = _parted(cell, lambda text: _is_number(held, text), _STEPS)
        names.update(dict.fromkeys(found.names))
        together |= found.together
    return Several(tuple(names), together)


def perhaps_numbers(cell: str) -> Iterator[str]:
    """Every number that ``numbers_in`` may ask for, or find, in a cell."""
    quoted = _QUOTED.fullmatch(cell)
    ready: list[tuple[str, Sequence[re.Pattern[str]]]] = [(quoted[1] if quoted else cell, _STEPS)]
    while ready:
        text, steps = ready.pop()
        flat = " ".join(text.split())
        graded = GRADED.fullmatch(flat)
        yield graded[1] if graded else flat
        for at, step in enumerate(steps):
            if step.search(text):
                ready += [(piece, steps[at + 1 :]) for piece in step.split(text) if piece.strip()]
                break


def one_name(text: str) -> str:
    """``text`` as a cell has it that names it and nothing else: in quotes where it would part, or
    be read as a remark or as another sort of link."""
    parts = any(step.search(text) for step in _STEPS)
    parts = parts or read_link_cell(text, "interchange") != LinkCell((("interchange", text),))
    return _quoted(text) if parts else text


def one_number(text: str) -> str:
    """As ``one_name`` for the column of part numbers."""
    plain = read_number_cell(text) == (text, LinkCell(())) and not says_nothing(text)
    return text if plain else _quoted(text)


def one_model(text: str) -> str:
    """As ``one_name`` for a machine's model."""
    found = read_machines(text, lambda _: "", lambda _: True)
    return text if found == MachineCell([Fit(text)]) else _quoted(text)


def _quoted(text: str) -> str:
    return f'"{text}"' if _QUOTED.fullmatch(f'"{text}"') else text


def _parted(text: str, known: Known, steps: Sequence[re.Pattern[str]]) -> Several:
    quoted = _QUOTED.fullmatch(text)
    if quoted:
        return Several((" ".join(quoted[1].split()),), False)
    flat = " ".join(text.split())
    if not any(step.search(text) for step in steps) or known(flat):
        return Several((flat,) if flat else (), False)
    step, *later = steps
    pieces = [piece for piece in step.split(text) if piece.strip()]
    parts = [_parted(piece, known, later) for piece in pieces]
    together = any(p.together for p in parts) or (step is _TOGETHER and len(pieces) > 1)
    return Several(tuple(name for p in parts for name in p.names), together)


def _is_number(held: BulkNames, text: str) -> bool:
    graded = GRADED.fullmatch(text)
    number = graded[1] if graded else text
    if held.has_number(number):
        return True
    maker, _, after = number.partition(":")
    after = after.strip()
    return bool(after) and (not maker or held.has_maker(maker)) and held.has_number(after)
