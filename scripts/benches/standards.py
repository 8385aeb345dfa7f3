"""How well each family of standard parts is borne out: rows, sources by column, checks by rule."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import mean

from scripts.benches.tables import aligned
from xref.domain.part import Part
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.standards.families import FAMILIES
from xref.standards.lookup import by_dimension_series
from xref.standards.rowreader import by_size
from xref.tables import Row, read_table

HEADING = ("family", "rows", "one source", "sources a column", "by rule", "by which rule")


ORDER = "order of sizes"
"""The weakest rule: it finds a misprint only where a size passes its neighbour."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One family. ``checked`` rows were held to ``rule`` and ``failed`` of them broke it."""

    family: str
    rows: int
    from_one: int
    by_column: tuple[tuple[str, float], ...]
    rule: str
    checked: int
    failed: tuple[str, ...]


def _series(row: Row, part: Part) -> bool | None:
    """Whether outside and width are those of the dimension series, as other bearings have them."""
    if not row.get("dimension_series") or "bore" not in part.sizes:
        return None
    own = [part.sizes[name].value for name in ("outside", "width")]
    others = [
        [other.sizes[name].value for name in ("outside", "width")]
        for other in by_dimension_series(row["dimension_series"], part.sizes["bore"].value)
        if other.number != part.number
    ]
    return own in others if others else None


def _exact_inch(row: Row, _: Part) -> bool | None:
    """Whether every size printed in both units is the same within the last place of each."""
    pairs = [
        (row[name], row[f"{name.removesuffix(end)}_mm"])
        for name in row
        for end in ("_in", "_inch")
        if name.endswith(end) and row[name] and row.get(f"{name.removesuffix(end)}_mm")
    ]
    read = [(_number(a), _number(b)) for a, b in pairs]
    known = [(a, b) for a, b in read if a is not None and b is not None]
    if not known:
        return None
    return all(abs(a * NM_PER_INCH - b * NM_PER_MM) <= _LAST_PLACE for a, b in known)


_LAST_PLACE = 13_000
"""Nanometres: the rounding of an inch figure at the third place of decimals of an inch, halved."""


def _number(text: str) -> Fraction | None:
    try:
        return sum((Fraction(piece) for piece in text.split()), Fraction(0))
    except (ValueError, ZeroDivisionError):
        return None


def _order(_: Row, part: Part) -> bool | None:
    """Whether what lies inside is smaller than what is around it."""
    sizes = {name: size.value for name, size in part.sizes.items()}
    pairs = (("bore", "outside"), ("minor", "major"), ("small-end", "large-end"))
    held = [(sizes[a], sizes[b]) for a, b in pairs if a in sizes and b in sizes]
    return all(a < b for a, b in held) if held else None


_RULES: tuple[tuple[str, Callable[[Row, Part], bool | None]], ...] = (
    ("dimension series", _series),
    ("both units", _exact_inch),
    (ORDER, _order),
)
"""The strongest first: a family is held to the first rule that says anything of its rows."""


def standing(family: str) -> Standing:
    """How the family's rows are borne out."""
    lines = [(row, FAMILIES[family](row)) for row in read_table(family)]
    rule, told = _first_rule(lines)
    columns = sorted({name for _, part in lines for name in part.sizes})
    return Standing(
        family,
        len(lines),
        sum(part.tables_agreeing == 1 for _, part in lines),
        tuple((name, _by_column(name, lines)) for name in columns),
        rule,
        sum(said is not None for said in told),
        tuple(p.number for (_, p), said in zip(lines, told, strict=True) if said is False),
    )


def _by_column(name: str, lines: Sequence[tuple[Row, Part]]) -> float:
    """How many sources on average give this size; a row that does not count apart has one figure
    for all."""
    return mean(
        by_size(row).get(name, part.tables_agreeing) for row, part in lines if name in part.sizes
    )


def _first_rule(lines: Sequence[tuple[Row, Part]]) -> tuple[str, list[bool | None]]:
    for name, holds in _RULES:
        told = [holds(row, part) for row, part in lines]
        if any(said is not None for said in told):
            return name, told
    return "", [None] * len(lines)


def report(families: Sequence[str] = tuple(FAMILIES)) -> str:
    """A line a family, the thinnest first, and what breaks its rule."""
    every = sorted(map(standing, families), key=lambda s: (-s.from_one / s.rows, s.family))
    rows = [HEADING, *(_line(one) for one in every)]
    total, alone = sum(s.rows for s in every), sum(s.from_one for s in every)
    checked = sum(s.checked for s in every if s.rule != ORDER)
    broken = [f"{s.family}: {', '.join(s.failed)}" for s in every if s.failed]
    return "\n".join(
        [
            aligned(rows),
            "",
            f"{total} rows; from one source {_share(alone, total)}, "
            f"held to more than the order of sizes {_share(checked, total)}",
            *(["", "Breaking the rule they were held to:", *broken] if broken else []),
        ]
    )


def _line(one: Standing) -> tuple[str, ...]:
    columns = " ".join(f"{name} {sources:.1f}" for name, sources in one.by_column)
    return (
        one.family,
        str(one.rows),
        _share(one.from_one, one.rows),
        columns,
        _share(one.checked - len(one.failed), one.rows),
        one.rule,
    )


def _share(part: int, whole: int) -> str:
    return f"{100 * part / whole:.0f} %" if whole else "-"
