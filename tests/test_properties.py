"""Property tests take their limits from one place, and are bounded."""

from __future__ import annotations

from pathlib import Path

from hypothesis import settings

HERE = Path(__file__).parent


def test_no_property_has_a_deadline_or_more_than_a_hundred_examples_unless_it_says_so() -> None:
    assert settings().deadline is None
    assert settings().max_examples <= 100


def test_only_the_one_profile_says_how_long_an_example_may_take() -> None:
    own = {HERE / "conftest.py", Path(__file__)}
    saying = [p.name for p in HERE.rglob("*.py") if p not in own and "deadline" in p.read_text()]
    assert saying == []
