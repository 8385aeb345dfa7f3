"""Marks on the metal, noted on the part they were found on."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from xref.domain.part import PartMark
from xref.errors import InputError
from xref.services.open import OpenStore
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.store.read.queries import resolve
from xref.store.write.unit import UnitOfWork


@pytest.fixture
def unit(bare: OpenStore) -> Iterator[UnitOfWork]:
    with bare.store.writing("mark add") as unit:
        yield unit


def test_mark_on_an_unknown_number_makes_it_as_mentioned(unit: UnitOfWork) -> None:
    first = marking.add(unit, "QF-9", "C 1187", "casting", "Quillfeather")
    assert first.made
    assert (first.part.status, first.part.maker) == ("mentioned", "Quillfeather")
    assert resolve(unit.conn, "QF-9").marks == (PartMark("C 1187", "casting"),)
    again = marking.add(unit, "QF-9", "C  1187", "casting")
    assert not again.made
    assert again.part.id == first.part.id
    assert resolve(unit.conn, "QF-9").marks == (PartMark("C 1187", "casting"),)


@pytest.mark.parametrize(
    ("number", "maker"), [("Quillfeather:QF-9", "Quillfeather"), (":QF-9", "")]
)
def test_a_number_may_name_its_maker(unit: UnitOfWork, number: str, maker: str) -> None:
    part = marking.add(unit, number, "C 1187", "casting").part
    assert (part.number, part.maker) == ("QF-9", maker)
    assert not marking.add(unit, number, "C 1187", "casting").made


def test_mark_may_be_noted_on_a_standards_row(unit: UnitOfWork) -> None:
    marking.add(unit, "6204", "QW 99-1", "number")
    assert resolve(unit.conn, "QW99 1").number == "6204"


@pytest.mark.parametrize(
    ("text", "role"), [("62?4", "number"), ("C 1187", "stamp"), ("", "casting"), ("\0", "date")]
)
def test_mark_that_cannot_be_kept_is_refused(unit: UnitOfWork, text: str, role: str) -> None:
    parts.add(unit, "QF-1")
    with pytest.raises(InputError):
        marking.add(unit, "QF-1", text, role)
