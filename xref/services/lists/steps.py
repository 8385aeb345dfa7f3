"""What a row says of how one number took the place of another, beside the numbers themselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from xref.domain.number import visible
from xref.domain.supersession import CHOICE, KINDS, ONE, SET, Step
from xref.errors import InputError
from xref.services.links.supersede import condition
from xref.services.lists.several import Several, numbers_in
from xref.sheets.cells import with_point
from xref.sheets.fields import IN_CYCLE, SERVES_BACK, STEP
from xref.store.write.bulk_links import BulkLinks
from xref.store.write.bulk_names import BulkNames


@dataclass(frozen=True, slots=True)
class Details:
    """A step as a row describes it. ``plain``: it names the numbers and no more, so that any step
    between them says as much. ``serials`` is "" for every serial, ``model`` "" for none."""

    plain: bool
    kind: str
    serves_back: bool = False
    in_cycle: bool = False
    model: str = ""
    serials: str = ""
    quantity: float = 1.0
    companions: tuple[str, ...] = ()
    date: str = ""
    reason: str = ""


def details_of(held: BulkNames, told: Mapping[str, str], named: Several) -> Details:
    """How ``named`` took the place. Raises InputError for what is not understood."""
    several = len(named.names) > 1
    kind = ONE if not several else SET if named.together else CHOICE
    if told.keys().isdisjoint(STEP):
        return Details(True, kind)
    words = {" ".join(w.lower().split()) for w in told.get("replaced as", "").split(",")} - {""}
    kinds = words & set(KINDS)
    if len(kinds) > 1 or words - {*KINDS, SERVES_BACK, IN_CYCLE}:
        raise InputError(
            f'"{visible(told["replaced as"])}" is no way to supersede',
            f"Use {', '.join(KINDS)}, {SERVES_BACK}, {IN_CYCLE}.",
        )
    return Details(
        plain=False,
        kind=kinds.pop() if kinds else kind,
        serves_back=SERVES_BACK in words,
        in_cycle=IN_CYCLE in words,
        model=told.get("replaced on model", ""),
        serials=told.get("replaced on serials", ""),
        quantity=quantity_of(told.get("replaced quantity", "")) or 1.0,
        companions=numbers_in(held, [told["change with"]]).names if "change with" in told else (),
        date=told.get("replaced date", ""),
        reason=told.get("replaced reason", ""),
    )


def says(held: BulkLinks, step: Step, wanted: Details, companions: set[int]) -> bool:
    """Whether a step between the right numbers says all that a row does."""
    if wanted.plain:
        return True
    model = held.model(wanted.model) if wanted.model else None
    if step.model != (model.id if model else None) or (wanted.model and model is None):
        return False
    return (
        step.kind == wanted.kind
        and step.serves_back == wanted.serves_back
        and step.condition == condition(wanted.serials, model)
        and all(quantity == wanted.quantity for _, quantity in step.news)
        and set(step.companions) == companions
        and (step.dated, step.reason) == (wanted.date, wanted.reason)
    )


def quantity_of(text: str) -> float | None:
    """A quantity as a cell has it ("2", "2 off", "0,5"); None for "". Raises InputError."""
    if not text:
        return None
    try:
        return float(with_point(text, ",").split()[0])
    except ValueError:
        raise InputError(f'"{text[:40]}" is no quantity', "Write a number.") from None
