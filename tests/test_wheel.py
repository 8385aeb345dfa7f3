"""The wheel and the source archive hold what is needed, and the installed wheel works alone."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

pytestmark = [pytest.mark.slow, pytest.mark.xdist_group("wheel")]
"""One worker runs these, so that the wheel is built once."""

CHECKOUT = Path(__file__).parents[1]
BUILT_FROM = ("xref", "schema", "tests", "scripts", "fixtures")
FILES = ("pyproject.toml", "README.md", "DEVELOPERS.md", ".pre-commit-config.yaml")


def run(*args: str, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    """Run this Python on something, away from the checkout."""
    clean = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return subprocess.run(
        [sys.executable, *args],
        capture_output=True,
        encoding="utf-8",
        cwd=cwd,
        env={**clean, **env},
        check=False,
        timeout=300,
    )


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the checkout, so that nothing which other runs leave behind gets in."""
    top = tmp_path_factory.mktemp("copy")
    for name in BUILT_FROM:
        if (CHECKOUT / name).is_dir():
            shutil.copytree(
                CHECKOUT / name, top / name, ignore=shutil.ignore_patterns("__pycache__")
            )
    for name in FILES:
        shutil.copy(CHECKOUT / name, top / name)
    return top


@pytest.fixture(scope="module")
def built(copy: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the wheel and the source archive."""
    out = tmp_path_factory.mktemp("dist")
    done = run(
        "-m",
        "build",
        "--no-isolation",
        "--wheel",
        "--sdist",
        "--outdir",
        str(out),
        str(copy),
        cwd=out,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return out


@pytest.fixture(scope="module")
def wheel(built: Path) -> Path:
    """The one wheel."""
    [found] = built.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the wheel installed in it and nothing else."""
    target = tmp_path_factory.mktemp("installed")
    done = run(
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--no-deps",
        "--no-index",
        "--target",
        str(target),
        str(wheel),
        cwd=target,
    )
    assert done.returncode == 0, done.stderr
    return target


def names_in(archive: Path) -> set[str]:
    """The names of the files in a wheel, or in a source archive below its own folder."""
    if archive.suffix == ".whl":
        with zipfile.ZipFile(archive) as opened:
            return set(opened.namelist())
    with tarfile.open(archive) as packed:
        return {m.name.split("/", 1)[1] for m in packed.getmembers() if m.isfile()}


def files_of(top: Path, folder: str, pattern: str) -> set[str]:
    """The files below ``folder``, by their path from ``top``."""
    return {p.relative_to(top).as_posix() for p in (top / folder).rglob(pattern)}


def test_wheel_holds_every_module_table_and_migration(copy: Path, wheel: Path) -> None:
    held = names_in(wheel)
    migrations = {
        name.replace("schema", "xref/_schema", 1)
        for name in files_of(copy, "schema", "*.py") | files_of(copy, "schema", "*.mako")
    }
    tables = files_of(copy, "xref/standards/data", "*.csv")
    assert len(migrations) >= 3
    assert len(tables) > 20
    assert (
        files_of(copy, "xref", "*.py") | tables | migrations | {"xref/py.typed", "xref/LICENSE"}
        <= held
    )
    assert [n for n in held if not n.startswith(("xref/", "xref-"))] == []


def test_source_archive_holds_schema_and_tests(copy: Path, built: Path) -> None:
    [archive] = built.glob("*.tar.gz")
    wanted = {*FILES, "scripts/test"} | files_of(copy, "xref/standards/data", "*.csv")
    for folder in ("xref", "schema", "tests"):
        wanted |= files_of(copy, folder, "*.py")
    wanted |= files_of(copy, "tests/contract/help", "*.txt")
    assert {"tests/test_wheel.py", "tests/contract/help/bench-add.txt"} <= wanted
    assert wanted <= names_in(archive)


def test_installed_wheel_is_what_runs_and_not_the_checkout(installed: Path, tmp_path: Path) -> None:
    done = run(
        "-c",
        "import xref; from xref.store.open.migrate import script_folder as folder\n"
        "print(xref.__file__, folder(), sep='\\n')",
        cwd=tmp_path,
        PYTHONPATH=str(installed),
    )
    assert done.stdout.splitlines() == [
        str(installed / "xref" / "__init__.py"),
        str(installed / "xref" / "_schema"),
    ], done.stderr


def test_installed_wheel_makes_a_store_and_identifies_a_part(
    installed: Path, tmp_path: Path
) -> None:
    """6304 is 20 x 52 x 15 mm (ISO 15, diameter series 3)."""
    store = tmp_path / "new.xref"
    done = run(
        "-m",
        "xref",
        "--store",
        str(store),
        "identify",
        "--json",
        "--mark",
        "6?04",
        "--bore",
        "20mm",
        "--width",
        "15mm",
        cwd=tmp_path,
        PYTHONPATH=str(installed),
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr.startswith("xref: made a new store at ")
    answer = json.loads(done.stdout)
    assert (answer["verdict"], answer["candidates"][0]["number"]) == ("one", "6304")
    assert [path.name for path in tmp_path.iterdir()] == ["new.xref"]


def test_command_of_the_installed_wheel_says_its_version(installed: Path, tmp_path: Path) -> None:
    script = installed / "bin" / "xref"
    done = run(str(script), "--version", cwd=tmp_path, PYTHONPATH=str(installed))
    [held] = installed.glob("xref-*.dist-info")
    assert done.stdout.split() == ["xref", held.name.split("-")[1].removesuffix(".dist")]


MOVES = """
import sys
from sqlalchemy import inspect
import xref
from xref.store.open import migrate
from xref.store.open.engine import open_engine

store = open_engine(sys.argv[1])
before = set(inspect(store.engine).get_table_names())
migrate.downgrade(store.engine, "base")
bare = set(inspect(store.engine).get_table_names())
migrate.upgrade(store.engine)
after = set(inspect(store.engine).get_table_names())
store.close()
print(xref.__file__)
print(len(before), sorted(bare), before == after, migrate.head() in migrate.known_revisions())
"""


def test_installed_wheel_moves_a_store_down_and_up_again(installed: Path, tmp_path: Path) -> None:
    done = run("-c", MOVES, str(tmp_path / "new.xref"), cwd=tmp_path, PYTHONPATH=str(installed))
    assert done.returncode == 0, done.stderr
    where, moved = done.stdout.splitlines()
    assert Path(where).is_relative_to(installed)
    count, rest = moved.split(" ", 1)
    assert int(count) > 5
    assert rest == "['alembic_version'] True True"
