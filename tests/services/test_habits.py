"""A reader with a habit is understood better after fifty decided readings."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

from fixtures.numbers import own_numbers
from xref.services.bench import bench as benching
from xref.services.identify import habits
from xref.services.open import OpenStore, open_store
from xref.services.parts import part as parts
from xref.services.question import Asked
from xref.store.notes import bench

COUNT = 1200
TAUGHT = 50
ASKED = 80


def read_by(person: random.Random, number: str) -> str:
    """The number as a person reads it who takes 1 for 7 one time in three."""
    return "".join("7" if c == "1" and person.random() < 1 / 3 else c for c in number)


def right_first(store: OpenStore, marks: list[tuple[str, str]]) -> int:
    found = 0
    for mark, number in marks:
        best = store.identify(mark=[mark], limit=1).candidates
        found += bool(best) and best[0].part.number == number
    return found


def filled(path: Path) -> list[str]:
    numbers = [own.number for own in own_numbers(COUNT, 17)]
    with open_store(str(path)) as store, store.store.writing("fill") as unit:
        for number in numbers:
            parts.add(unit, number, maker="Quillfeather")
        unit.commit()
    return numbers


def test_a_habit_is_learned_shown_and_forgotten(seeded_path: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(seeded_path, tmp_path / "habit.xref"))
    numbers = filled(path)
    person = random.Random(5)
    ones = [n for n in numbers if "1" in n]
    lessons = [(read_by(person, n), n) for n in person.sample(ones, TAUGHT)]
    with open_store(str(path)) as store:
        exam = [(m, n) for n in ones for m in [read_by(person, n)] if m != n]
        exam = person.sample(exam, ASKED)
        noisy = [(worn(person, mark), number) for mark, number in exam]
        before = right_first(store, noisy)
        for mark, number in lessons:
            with store.store.writing("bench") as unit:
                label = benching.add(unit, "bench", Asked(marks=(mark,)))
                benching.decide(unit, label, number, "Quillfeather")
                unit.commit()
        after = right_first(store, noisy)
        with store.store.reading() as conn:
            told, _ = habits.told(conn)
            assert len(bench.items(conn)) == TAUGHT
        assert (told[0].true, told[0].read) == ("1", "7")
        assert told[0].now < told[0].before
        with store.store.writing("reset") as unit:
            habits.reset(unit)
            unit.commit()
        assert right_first(store, noisy) == before
    assert after > before


def worn(person: random.Random, mark: str) -> str:
    """The mark with one more character that cannot be read, and one misread."""
    chars = list(mark)
    digits = [at for at, c in enumerate(chars) if c.isdigit()]
    lost, wrong = person.sample(digits, 2)
    chars[lost] = "?"
    chars[wrong] = person.choice("0123456789")
    return "".join(chars)


def test_a_changed_decision_takes_back_what_the_old_one_taught(
    seeded_path: Path, tmp_path: Path
) -> None:
    with open_store(str(shutil.copy(seeded_path, tmp_path / "s.xref"))) as store:
        with store.store.writing("fill") as unit:
            for number in ("QF-1711", "QF-1771"):
                parts.add(unit, number)
            label = benching.add(unit, "case", Asked(marks=("QF-1777",)))
            benching.decide(unit, label, "QF-1711")
            benching.decide(unit, label, "QF-1771")
            unit.commit()
        with store.store.reading() as conn:
            told, characters = habits.told(conn)
    assert characters == 6
    assert told == []
