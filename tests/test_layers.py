"""The layers of the package: imports point downward, and each outside library has its place."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "xref"

RANK = {
    "errors": 0,
    "tables": 0,
    "settings": 0,
    "domain": 1,
    "designation": 2,
    "standards": 3,
    "store": 4,
    "sheets": 4,
    "services": 5,
    "render": 6,
    "web": 7,
    "cli": 8,
    "__main__": 9,
    "__init__": 9,
}
"""A module may import what has a lower number, and its own folder; never its equal."""

OUTSIDE = {
    "click": {"cli"},
    "sqlalchemy": {"store"},
    "alembic": {"store"},
    "rapidfuzz": {"store", "sheets"},
    "pandas": {"sheets"},
    "openpyxl": {"sheets"},
    "platformdirs": {"settings"},
    "starlette": {"web"},
    "uvicorn": {"web"},
    "jinja2": {"web"},
}
"""Which layers may import a library from outside. ``schema`` is no part of the package."""

TYPES_ONLY = {("services", "sqlalchemy.Connection")}
"""Services hand a connection on to the store and name its type; they may import nothing else."""

MOST_LINES = 400


def layer_of(path: Path, package: Path) -> str:
    """The folder below the package that a module lies in, or its own name."""
    parts = path.relative_to(package).parts
    return parts[0] if len(parts) > 1 else path.stem


def imported(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Every name imported anywhere in a module, late imports too, in full, with its line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, name.name) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = "." * node.level + (node.module or "")
            yield from ((node.lineno, f"{start}.{name.name}") for name in node.names)


def import_fault(layer: str, name: str) -> str | None:
    """What is wrong with importing ``name`` in ``layer``; None where nothing is."""
    top, *rest = name.split(".")
    if not top:
        return "relative import"
    if top != "xref":
        allowed = OUTSIDE.get(top)
        if allowed is None or layer in allowed or (layer, name) in TYPES_ONLY:
            return None
        return f"{top} belongs in {', '.join(sorted(allowed))}"
    target = rest[0] if rest else ""
    if not target or target == layer:
        return None
    if target not in RANK:
        return f"{target} is no layer"
    return None if RANK[target] < RANK[layer] else f"{layer} may not import {target}"


def prints(tree: ast.AST) -> Iterator[int]:
    """The lines that call ``print``."""
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id == "print"
        ):
            yield node.lineno


def bare_uses(tree: ast.AST, name: str) -> Iterator[int]:
    """The lines where ``name`` stands anywhere but in a type of an argument, result or variable."""
    types = {
        id(part)
        for node in ast.walk(tree)
        for given in (getattr(node, "annotation", None), getattr(node, "returns", None))
        if given is not None
        for part in ast.walk(given)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and node.id == name and id(node) not in types:
            yield node.lineno


def module_faults(path: Path, package: Path) -> Iterator[tuple[int, str]]:
    """What is wrong with one module, by line."""
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    layer = layer_of(path, package)
    if layer not in RANK:
        yield 1, f"{layer} is no layer"
        return
    for line, name in imported(tree):
        fault = import_fault(layer, name)
        if fault:
            yield line, fault
        if (layer, name) in TYPES_ONLY:
            short = name.rpartition(".")[2]
            yield from ((use, f"{short} is for types only") for use in bare_uses(tree, short))
    if layer != "cli":
        yield from ((line, "print") for line in prints(tree))
    if len(text.splitlines()) >= MOST_LINES:
        yield 1, f"{MOST_LINES} lines or more"


def faults(package: Path) -> list[str]:
    """Every fault below ``package``, as "module:line: what"."""
    return [
        f"{path.relative_to(package).as_posix()}:{line}: {what}"
        for path in sorted(package.rglob("*.py"))
        for line, what in module_faults(path, package)
    ]


def test_package_keeps_its_layers() -> None:
    assert faults(PACKAGE) == []


def test_every_layer_is_there_and_is_looked_at() -> None:
    seen = {layer_of(path, PACKAGE) for path in PACKAGE.rglob("*.py")}
    assert seen == RANK.keys()


@pytest.mark.parametrize(
    ("module", "text", "fault"),
    [
        (
            "domain/mark.py",
            "from xref.store.index.near import near",
            "1: domain may not import store",
        ),
        ("domain/mark.py", "from xref import services", "1: domain may not import services"),
        ("domain/mark.py", "import xref.designation.oring", "1: domain may not import designation"),
        ("domain/mark.py", "import sqlalchemy", "1: sqlalchemy belongs in store"),
        ("domain/mark.py", "import rapidfuzz.fuzz", "1: rapidfuzz belongs in sheets, store"),
        ("domain/mark.py", "import pandas as pd", "1: pandas belongs in sheets"),
        ("domain/mark.py", "from click import echo", "1: click belongs in cli"),
        (
            "designation/oring.py",
            "from xref.standards import find",
            "1: designation may not import standards",
        ),
        ("standards/lookup.py", "import xref.sheets.box", "1: standards may not import sheets"),
        ("store/unit.py", "from xref.sheets import box", "1: store may not import sheets"),
        ("sheets/box.py", "from xref.store import unit", "1: sheets may not import store"),
        ("sheets/box.py", "import sqlalchemy", "1: sqlalchemy belongs in store"),
        ("store/unit.py", "import pandas", "1: pandas belongs in sheets"),
        ("services/query.py", "from xref.cli.app import main", "1: services may not import cli"),
        ("services/query.py", "import click", "1: click belongs in cli"),
        ("services/query.py", "from sqlalchemy import select", "1: sqlalchemy belongs in store"),
        (
            "services/query.py",
            "from sqlalchemy import Connection\nprint_ = Connection()",
            "2: Connection is for types only",
        ),
        ("render/parts.py", "from xref.cli import app", "1: render may not import cli"),
        ("web/guard.py", "from xref.cli import app", "1: web may not import cli"),
        ("web/guard.py", "import click", "1: click belongs in cli"),
        ("web/guard.py", "from sqlalchemy import select", "1: sqlalchemy belongs in store"),
        ("render/parts.py", "from xref.web import guard", "1: render may not import web"),
        ("services/query.py", "import starlette.requests", "1: starlette belongs in web"),
        ("cli/page.py", "import uvicorn", "1: uvicorn belongs in web"),
        ("errors.py", "from xref.domain import size", "1: errors may not import domain"),
        ("domain/mark.py", "from .number import key", "1: relative import"),
        ("domain/mark.py", "def f():\n    import click", "2: click belongs in cli"),
        ("domain/mark.py", "def f():\n    print('6204')", "2: print"),
        ("render/parts.py", "print('6204')", "1: print"),
        ("domain/mark.py", "\n" * MOST_LINES, "1: 400 lines or more"),
        ("parts/mark.py", "", "1: parts is no layer"),
        ("store/unit.py", "from xref.attic import box", "1: attic is no layer"),
    ],
)
def test_each_fault_is_found(tmp_path: Path, module: str, text: str, fault: str) -> None:
    path = tmp_path / module
    path.parent.mkdir(exist_ok=True)
    path.write_text(text)
    assert faults(tmp_path) == [f"{module}:{fault}"]


@pytest.mark.parametrize(
    ("module", "text"),
    [
        ("domain/mark.py", "import re\nfrom xref.errors import InputError\nimport xref.domain"),
        ("store/unit.py", "from sqlalchemy import select\nfrom xref.standards import find"),
        ("services/parts.py", "from sqlalchemy import Connection\ndef f(c: Connection): ..."),
        ("services/parts.py", "from xref.store import unit\nfrom xref.sheets import box"),
        ("cli/app.py", "import click\nfrom xref.render import parts\nprint('6204')"),
        ("domain/mark.py", "pretty = 'print('  # print(6204)"),
        ("domain/mark.py", "\n" * (MOST_LINES - 1)),
    ],
)
def test_what_is_in_order_is_let_through(tmp_path: Path, module: str, text: str) -> None:
    path = tmp_path / module
    path.parent.mkdir()
    path.write_text(text)
    assert faults(tmp_path) == []


def test_commands_and_pages_never_take_a_connection_of_their_own() -> None:
    """What they do with a store stands behind the door, where other programs have it too."""
    faults = [
        f"{path.relative_to(PACKAGE)}:{node.lineno}"
        for folder in ("cli", "web")
        for path in sorted((PACKAGE / folder).rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and node.attr == "store" and _is_opened(node.value)
    ]
    assert faults == []


def _is_opened(node: ast.expr) -> bool:
    name = node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
    return name == "opened"
