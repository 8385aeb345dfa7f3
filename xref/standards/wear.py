"""How parts wear, and what a hand reading of a size really measures."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.number import visible
from xref.domain.size import NM_PER_MM
from xref.errors import InputError
from xref.standards.seal_rule import press_fit
from xref.tables import Row, read_table

CONDITIONS = ("new", "used", "worn")

NEIGHBOURS = ("shaft", "housing")
"""Sizes of what the part sits in: they wear whatever the part is."""


@dataclass(frozen=True, slots=True)
class Wear:
    """One-sided wear: a share ``q`` (0..1) of parts is off by a mean of ``w_nm`` nanometres in
    ``direction`` (+1 reads large, −1 reads small). No wear: all zero."""

    q: float
    w_nm: int
    direction: int
    reason: str


@dataclass(frozen=True, slots=True)
class Directness:
    """What a hand reading of a loose part shows beside its nominal, in nanometres.

    ``offset`` is how much larger it reads, ``spread`` how far that varies (one standard
    deviation); ``reason`` says why, "" where it reads its nominal.
    """

    offset: int
    spread: int
    reason: str


@dataclass(frozen=True, slots=True)
class RepairStep:
    """A usual over- or undersize: nanometres from nominal, and how the trade names it."""

    nm: int
    text: str


NONE = Wear(0.0, 0, 0, "")
AS_NOMINAL = Directness(0, 0, "")


@cache
def _rules() -> dict[tuple[str, str, str], Row]:
    return {(r["kind"], r["size"], r["condition"]): r for r in read_table("wear")}


@lru_cache(maxsize=4096)
def wear(kind: str, name: str, condition: str) -> Wear:
    """How the size ``name`` of a part of ``kind`` has worn in ``condition`` (one of CONDITIONS).

    A size without a rule for its kind takes the one for any kind, but a bearing's own boundary
    dimensions hardly move and ``kind`` "" (not known) has no wear. All values are judged, the
    table says so row by row. Raises InputError for any other condition: a slip of the pen must not
    pass for an unworn part.
    """
    if condition not in CONDITIONS:
        raise InputError(
            f'no condition is called "{visible(condition)}"',
            f"Conditions: {', '.join(CONDITIONS)}.",
        )
    rules = _rules()
    row = rules.get((kind, name, condition))
    if row is None and (_has_general_wear(kind, name)):
        row = rules.get(("any", name, condition))
    if row is None:
        return NONE
    w_nm = round(float(row["w_mm"]) * NM_PER_MM)
    return Wear(float(row["q"]), w_nm, int(row["direction"]), row["reason"])


def _has_general_wear(kind: str, name: str) -> bool:
    return kind not in ("", "bearing") or (kind == "bearing" and name in NEIGHBOURS)


def measured_directly(kind: str, type_: str, name: str, nominal_nm: int) -> Directness:
    """What jaws on the loose part read where its nominal is ``nominal_nm``.

    ``shaft`` and ``housing`` are what the part sits between: they read their nominal. The lip, cup
    and bush figures are judged; the seal's rim follows its press-fit allowance.
    """
    if kind == "shaft seal" and name == "outside":
        return _seal_outside(nominal_nm)
    if kind == "shaft seal" and name == "bore":
        return Directness(-1_200_000, 600_000, "a free lip is smaller than its shaft")
    if type_.startswith("drawn cup") and name == "bore":
        reason = "a loose drawn cup is not round: press it in a ring and use a plug"
        return Directness(0, 150_000, reason)
    if type_.startswith("wrapped bush") and name in ("outside", "bore"):
        larger = 150_000 if name == "outside" else 100_000
        return Directness(larger, 150_000, "a free wrapped bush springs open")
    return AS_NOMINAL


@lru_cache(maxsize=4096)
def _seal_outside(bore_nm: int) -> Directness:
    """The press-fit allowance over the bore, metal-cased and rubber-covered seals together.

    The allowance's ends are taken as two standard deviations from its middle. Judged.
    """
    allowed = press_fit(bore_nm)
    least, most = allowed.least / NM_PER_MM, allowed.most / NM_PER_MM
    reason = f"a loose seal is {least:.2f} to {most:.2f} mm larger than its bore"
    return Directness(allowed.middle, (allowed.most - allowed.least) // 4, reason)


_STEPS = (
    (254_000, "0.010 in"),
    (508_000, "0.020 in"),
    (762_000, "0.030 in"),
    (1_016_000, "0.040 in"),
    (250_000, "0.25 mm"),
    (500_000, "0.50 mm"),
    (750_000, "0.75 mm"),
    (1_000_000, "1.00 mm"),
)
"""Usual repair steps of bores, journals and pins: common practice, no published source."""

_REPAIRED = {
    "bush": ("bore", "outside"),
    "pin": ("diameter", "outside"),
    "other": ("bore", "outside", "diameter"),
}


@lru_cache(maxsize=4096)
def repair_steps(kind: str, name: str) -> tuple[RepairStep, ...]:
    """The steps by which this size may have been repaired; () for bearings, seals and the rest."""
    if name not in _REPAIRED.get(kind, ()):
        return ()
    over = [RepairStep(nm, f"{text} oversize") for nm, text in _STEPS]
    under = [RepairStep(-nm, f"{text} undersize") for nm, text in _STEPS]
    return tuple(over + under)
