"""Cautions travel along supersession and interchange, both ways, and no further than is true."""

from __future__ import annotations

import pytest

from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore
from xref.services.parts import part as parts
from xref.services.parts.cautioning import cautions_of, every_caution, never_by_size_of
from xref.store.read.queries import resolve

SHAFT = "bush, brake shaft"


def keep(store: OpenStore, **words: str) -> None:
    """Parts of Quillfeather with these descriptions, numbered QF-name."""
    with store.store.writing("part add") as unit:
        for name, text in words.items():
            parts.add(unit, f"QF-{name}", maker="Quillfeather", words=text)
        unit.commit()


def follow(store: OpenStore, *pairs: str) -> None:
    """Supersessions "A>B" and interchanges "A=B" (same) or "A~B" (stated) of these parts."""
    with store.store.writing("links") as unit:
        for pair in pairs:
            sign = next(sign for sign in ">=~!" if sign in pair)
            one, two = (f"QF-{name}" for name in pair.split(sign))
            if sign == ">":
                supersede(unit, one, [two])
            else:
                grade = {"=": "same", "~": "stated", "!": "tried-does-not-fit"}[sign]
                interchange(unit, one, two, grade=grade)
        unit.commit()


def told(store: OpenStore, name: str) -> tuple[str, ...]:
    with store.store.reading() as conn:
        return cautions_of(conn, [resolve(conn, f"QF-{name}")])[0]


def test_what_replaces_a_brake_part_is_a_brake_part_and_says_because_of_which(
    bare: OpenStore,
) -> None:
    keep(bare, A=SHAFT, B="bush", C="bush")
    follow(bare, "A>B", "B>C")
    (text,) = told(bare, "C")
    assert text.startswith("Brake part: a wrong one can kill.")
    assert text.endswith("Because it replaces QF-A, bush, brake shaft.")


def test_what_a_brake_part_replaced_is_a_brake_part_too(bare: OpenStore) -> None:
    keep(bare, A="bush", B=SHAFT)
    follow(bare, "A>B")
    assert told(bare, "A")[0].endswith("Because it is replaced by QF-B, bush, brake shaft.")


@pytest.mark.parametrize(("pair", "ask"), [("A~B", "B"), ("B~A", "B"), ("A=B", "B")])
def test_a_caution_travels_along_an_interchange_whichever_is_named_first(
    bare: OpenStore, pair: str, ask: str
) -> None:
    keep(bare, A=SHAFT, B="bush")
    follow(bare, pair)
    assert told(bare, ask)[0].startswith("Brake part")
    assert "QF-A, bush, brake shaft" in told(bare, ask)[0]


def test_a_caution_travels_through_supersession_and_interchange_together(bare: OpenStore) -> None:
    keep(bare, A=SHAFT, B="bush", C="bush", D="bush")
    follow(bare, "A>B", "B~C", "C>D")
    assert "QF-A" in told(bare, "D")[0]
    assert "QF-A" in told(bare, "C")[0]


def test_two_parts_that_one_plain_bolt_replaced_say_nothing_of_each_other(bare: OpenStore) -> None:
    keep(bare, A=SHAFT, B="bush, coat rack", C="bush")
    follow(bare, "A>C", "B>C")
    assert told(bare, "B") == ()
    assert told(bare, "C")[0].startswith("Brake part")


def test_what_was_tried_and_does_not_fit_carries_nothing_over(bare: OpenStore) -> None:
    keep(bare, A=SHAFT, B="bush")
    follow(bare, "A!B")
    assert told(bare, "B") == ()


def test_a_standards_row_does_not_pass_a_caution_on_to_whatever_else_it_serves(
    bare: OpenStore,
) -> None:
    keep(bare, A="bearing, brake shaft", B="bearing, fan")
    with bare.store.writing("links") as unit:
        for number in ("QF-A", "QF-B"):
            interchange(unit, number, "6204", grade="stated")
        unit.commit()
    assert not any("Brake" in text for text in told(bare, "B"))
    with bare.store.reading() as conn:
        row = every_caution(conn, [resolve(conn, "6204")])
    assert any("Brake part" in text and "QF-A" in text for text in row)


def test_a_caution_of_its_own_is_not_told_twice(bare: OpenStore) -> None:
    keep(bare, A=SHAFT, B="brake shoe")
    follow(bare, "A>B")
    assert sum(text.startswith("Brake part") for text in told(bare, "B")) == 1


def test_a_circle_and_a_long_chain_come_to_an_end(bare: OpenStore) -> None:
    names = [f"N{number}" for number in range(40)]
    keep(bare, A=SHAFT, **dict.fromkeys(names, "bush"))
    chain = ["A", *names]
    follow(bare, *(f"{one}>{two}" for one, two in zip(chain, names, strict=False)))
    with bare.store.writing("supersede") as unit:
        supersede(unit, "QF-N39", ["QF-A"], record_anyway=True)
        unit.commit()
    assert told(bare, "N39")[0].startswith("Brake part")


def test_what_replaces_a_shear_pin_is_never_chosen_by_size_either(bare: OpenStore) -> None:
    keep(bare, A="shear pin, jackshaft", B="pin", C="pin")
    follow(bare, "A>B")
    with bare.store.reading() as conn:
        found = [resolve(conn, f"QF-{name}") for name in "BC"]
        assert never_by_size_of(conn, found) == [True, False]
