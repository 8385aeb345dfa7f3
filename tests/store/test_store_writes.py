"""Writes are kept whole or not at all, and the population's figures stay exact through them."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import pytest
from sqlalchemy import Connection, func, select

from xref.domain.part import Part, PartMark, Spelling, StoredSize
from xref.domain.population import Pattern
from xref.errors import InputError, StoreError
from xref.store.index.tally import population, stored_tally, tally_of
from xref.store.open.engine import Store
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.tables.tables import boundary, mark, part, size, source, spelling

MM = 1_000_000


def whimbrel(number: str, **fields: object) -> Part:
    """A part of the user's own, from Quillfeather's books."""
    made = Part(
        number,
        "Quillfeather",
        "casting",
        f"own:QUILLFEATHER:{number}",
        "store",
        4.0,
        spellings=(Spelling(number),),
    )
    return replace(made, **fields)  # type: ignore[arg-type]


def figures(conn: Connection) -> dict[tuple[str, str], float]:
    """The stored figures."""
    return stored_tally(conn)


def recounted(conn: Connection) -> dict[tuple[str, str], float]:
    """The figures counted anew from every part in the store."""
    whole: Counter[tuple[str, str]] = tally_of(
        load_parts(conn, list(conn.scalars(select(part.c.id))))
    )
    return {key: float(amount) for key, amount in whole.items() if amount}


def test_part_is_read_back_as_it_was_written(store: Store) -> None:
    given = whimbrel(
        "QF-2214",
        words="chain case, left",
        status="not-sold-separately",
        type="cover",
        note="three lugs",
        sizes={
            "bore": StoredSize(20 * MM),
            "pitch": StoredSize(9_525_000, -1000, 2000),
            "teeth": StoredSize(17),
        },
        spellings=(Spelling("QF-2214"), Spelling("2214", 0.5, "alias", True)),
        marks=(PartMark("C 1187", "casting"),),
    )
    with store.writing("add") as unit:
        ident = unit.add_part(given)
        unit.commit()
    with store.reading() as conn:
        (found,) = load_parts(conn, [ident])
    assert found == replace(given, id=ident)


def write_then_fail(store: Store) -> None:
    """Add a part and meet an error before the commit."""
    with store.writing("broken") as unit:
        unit.add_part(whimbrel("QF-2"))
        raise KeyError


def add_all(store: Store, numbers: list[str]) -> None:
    """Add parts of these numbers in one unit."""
    with store.writing("import") as unit:
        for number in numbers:
            unit.add_part(whimbrel(number))
        unit.commit()


def test_nothing_stays_of_a_unit_that_is_not_committed(store: Store) -> None:
    with store.reading() as conn:
        before = figures(conn)
    with store.writing("forgotten") as unit:
        unit.add_part(whimbrel("QF-1"))
        unit.add_source("Whimbrel parts book", "1951", "", "")
    with pytest.raises(KeyError):
        write_then_fail(store)
    with store.reading() as conn:
        assert conn.scalar(select(func.count()).select_from(source)) == 0
        assert conn.scalar(select(func.count()).where(part.c.origin == "store")) == 0
        assert figures(conn) == before


def test_row_900_that_fails_leaves_nothing_of_the_899_before_it(store: Store) -> None:
    numbers = [f"QF-{n}" for n in range(899)] + ["QF-0"]
    with pytest.raises(InputError, match="already"):
        add_all(store, numbers)
    with store.reading() as conn:
        assert conn.scalar(select(func.count()).where(part.c.origin == "store")) == 0


def test_two_writings_of_one_key_are_one_part_and_two_makers_two(store: Store) -> None:
    with store.writing("add") as unit:
        unit.add_part(whimbrel("QF 22.14"))
        with pytest.raises(InputError, match="already in the store"):
            unit.add_part(whimbrel("qf-22-14"))
        unit.add_part(whimbrel("QF 22.14", maker="Dunmarrow", group="own:DUNMARROW:QF-22-14"))
        unit.add_part(whimbrel("QF 22/14", group="own:QUILLFEATHER:QF-22/14"))
        unit.commit()


def test_boundary_dimensions_are_kept_once_for_all_parts_that_share_them(store: Store) -> None:
    sizes = {
        "bore": StoredSize(20 * MM),
        "outside": StoredSize(47 * MM),
        "width": StoredSize(14 * MM),
    }
    with store.reading() as conn:
        before = conn.scalar(select(func.count()).select_from(boundary))
        on = conn.scalar(select(part.c.boundary_id).where(part.c.id == resolve(conn, "6204").id))
    with store.writing("add") as unit:
        ident = unit.add_part(whimbrel("QF-7", sizes=sizes))
        unit.commit()
    with store.reading() as conn:
        assert conn.scalar(select(func.count()).select_from(boundary)) == before
        assert conn.scalar(select(part.c.boundary_id).where(part.c.id == ident)) == on


def test_removed_part_takes_all_that_hangs_on_it(store: Store) -> None:
    with store.writing("add") as unit:
        ident = unit.add_part(whimbrel("QF-7", sizes={"pitch": StoredSize(5)}))
        unit.add_mark(ident, PartMark("C 1187", "casting"))
        unit.add_mark(ident, PartMark("7 QF", "number"))
        unit.commit()
    with store.writing("remove") as unit:
        unit.remove_part(ident)
        unit.commit()
    with store.reading() as conn:
        for table in (spelling, size, mark):
            assert not conn.scalar(select(func.count()).where(table.c.part_id == ident))


def test_change_keeps_the_marks_and_where_they_were_found(store: Store) -> None:
    with store.writing("add") as unit:
        book = unit.add_source("Whimbrel parts book", "1951", "", "")
        ident = unit.add_part(whimbrel("QF-7"), book)
        unit.add_mark(ident, PartMark("QF 7 A", "number"), book)
        unit.commit()
    with store.writing("change") as unit:
        (old,) = load_parts(unit.conn, [ident])
        unit.change_part(ident, replace(old, words="bracket"))
        unit.commit()
    with store.reading() as conn:
        (new,) = load_parts(conn, [ident])
        assert new == replace(old, words="bracket")
        assert conn.scalar(select(mark.c.source_id).where(mark.c.part_id == ident)) == book
        assert conn.scalar(select(part.c.source_id).where(part.c.id == ident)) == book
        assert resolve(conn, "QF7A").id == ident


@pytest.mark.parametrize(
    ("role", "searched"),
    [("number", True), ("casting", False), ("size", False), ("date", False), ("other", False)],
)
def test_only_a_mark_of_the_number_role_is_searched_as_a_number(
    store: Store, role: str, searched: bool
) -> None:
    with store.writing("mark") as unit:
        ident = unit.add_part(whimbrel("QF-7"))
        unit.add_mark(ident, PartMark("ZX 99", role))
        unit.commit()
    with store.reading() as conn:
        found = list(conn.scalars(select(spelling.c.part_id).where(spelling.c.folded == "ZX99")))
    assert found == ([ident] if searched else [])


def test_part_of_ones_own_cannot_be_put_under_a_standard(store: Store) -> None:
    with store.reading() as conn:
        standard = resolve(conn, "6204").maker
    with pytest.raises(InputError, match="is a standard"), store.writing("add") as unit:
        unit.add_part(whimbrel("99999", maker=standard))


def test_shipped_rows_are_counted_exactly(store: Store) -> None:
    with store.reading() as conn:
        assert figures(conn) == recounted(conn)


def test_duplicate_of_a_standard_size_counts_once_with_the_greater_weight(store: Store) -> None:
    with store.reading() as conn:
        standard = resolve(conn, "6204")
        before = population(conn)
    listed = Pattern("bearing", frozenset(standard.sizes), True, standard=True)
    written = Pattern("bearing", frozenset(standard.sizes), True)
    twin = whimbrel("6204", maker="", kind="bearing", group=standard.group)
    with store.writing("add") as unit:
        ident = unit.add_part(twin)
        unit.commit()
    with store.reading() as conn:
        after = population(conn)
    assert after.weight - before.weight == 4.0 - standard.weight
    assert before.patterns[listed] - after.patterns[listed] == standard.weight
    assert after.patterns[written] - before.patterns.get(written, 0.0) == 4.0
    assert after.things == before.things + 1
    assert after.characters["6"] == before.characters["6"] + 1
    assert after.described == before.described
    with store.writing("remove") as unit:
        unit.remove_part(ident)
        unit.commit()
    with store.reading() as conn:
        assert population(conn) == before


def some_part(chance: random.Random, number: int) -> Part:
    """A part of a random make, often in a group with others."""
    names = chance.sample(["bore", "outside", "width", "pitch", "teeth"], chance.randint(0, 4))
    words = chance.choice(["", "chain case", "Chain wheel, 17 teeth", "case"])
    return whimbrel(
        f"QF-{number}",
        group=chance.choice(["a", "b", "c", f"own:{number}", "bearing 6204"]),
        kind=chance.choice(["", "bearing", "casting"]),
        weight=chance.choice([4.0, 1.0, 0.5]),
        words=words,
        sizes={name: StoredSize(chance.randint(1, 50)) for name in names},
        spellings=(
            Spelling(f"QF-{number}"),
            *[Spelling("BB8", chance.choice([0.1, 0.3, 1.0]), "alias")] * chance.randint(0, 2),
        ),
    )


def one_write(unit: object, chance: random.Random, ids: list[int], number: int) -> None:
    """Add, change or remove a part, or mark one."""
    from xref.store.write.unit import UnitOfWork

    assert isinstance(unit, UnitOfWork)
    doing = chance.choice(["add", "add", "change", "remove", "mark"])
    if doing == "add" or not ids:
        ids.append(unit.add_part(some_part(chance, number)))
    elif doing == "change":
        ident = chance.choice(ids)
        (old,) = load_parts(unit.conn, [ident])
        unit.change_part(ident, replace(some_part(chance, number), number=old.number))
    elif doing == "remove":
        unit.remove_part(ids.pop(chance.randrange(len(ids))))
    else:
        unit.add_mark(chance.choice(ids), PartMark(f"N{number}", chance.choice(["number", "date"])))


@pytest.mark.parametrize("seed", range(8))
def test_figures_equal_a_recount_after_any_writes(store: Store, seed: int) -> None:
    chance = random.Random(seed)
    ids: list[int] = []
    for turn in range(12):
        kept = list(ids)
        with store.writing("some") as unit:
            for step in range(chance.randint(1, 6)):
                one_write(unit, chance, ids, turn * 10 + step)
            if chance.random() < 0.8:
                unit.commit()
            else:
                ids = kept
    with store.reading() as conn:
        assert ids
        assert figures(conn) == recounted(conn)


def test_store_closed_to_writing_says_so(store: Store) -> None:
    store.writable = False
    with pytest.raises(StoreError, match="read-only"), store.writing("add"):
        pytest.fail("it was opened for writing")
