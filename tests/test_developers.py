"""DEVELOPERS.md speaks of what is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
TEXT = (TOP / "DEVELOPERS.md").read_text("utf-8")
PLACES = sorted(set(re.findall(r"`([.\w]+(?:/[\w*.-]*)+)`", TEXT)))


def is_there(place: str) -> bool:
    """Whether a file or folder, of the checkout or the package, or a name in a module is there."""
    bare = place.rstrip("/")
    if any(any(top.glob(name)) for top in (TOP, TOP / "xref") for name in (bare, f"{bare}.py")):
        return True
    module, _, name = bare.rpartition(".")
    file = TOP / "xref" / f"{module}.py"
    said = rf"^(?:def|class) {re.escape(name)}\b|^    def {re.escape(name)}\b"
    return file.is_file() and re.search(said, file.read_text("utf-8"), re.MULTILINE) is not None


@pytest.mark.parametrize("place", PLACES)
def test_every_place_that_is_named_is_there(place: str) -> None:
    assert is_there(place) or place == "xref/_schema", place


@pytest.mark.parametrize("place", ["store/attic", "domain/evidence.evens", "attic/"])
def test_a_place_that_is_not_there_is_found_out(place: str) -> None:
    assert not is_there(place)


def test_every_layer_and_every_bench_is_named() -> None:
    layers = {p.name for p in (TOP / "xref").iterdir() if (p / "__init__.py").is_file()}
    assert layers <= {place.rstrip("/") for place in PLACES}
    main = (TOP / "scripts" / "benches" / "__main__.py").read_text("utf-8")
    benches = re.findall(r'add_parser\(\s*"(\w+)"', main)
    (named,) = re.findall(r"`scripts/bench ([\w|]+)`", TEXT)
    assert sorted(named.split("|")) == sorted(benches)
