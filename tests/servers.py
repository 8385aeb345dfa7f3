"""Databases for the tests of a shared store: each test has one of its own on the server."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec

import pytest
from sqlalchemy import create_engine, make_url

SERVER = os.environ.get("XREF_TEST_POSTGRESQL", "")
"""The address of any database on a server where one may make others; scripts/test starts one."""

_count = iter(range(1_000_000))


def server() -> str:
    """The server's address; the test that asks is skipped where there is none."""
    if not SERVER:
        pytest.skip("no server named by XREF_TEST_POSTGRESQL: run scripts/test, which starts one")
    if find_spec("psycopg") is None:
        pytest.skip("the server's driver is missing: pip install 'psycopg[binary]>=3.2'")
    return SERVER


def _do(statement: str) -> None:
    engine = create_engine(server(), isolation_level="AUTOCOMMIT")
    with engine.connect() as conn:
        conn.exec_driver_sql(statement)
    engine.dispose()


@contextmanager
def database(how: str = "") -> Iterator[str]:
    """The address of a new database, made as ``how`` says, and dropped afterwards."""
    worker = os.environ.get("PYTEST_XDIST_WORKER", "alone")
    name = f"xref_{worker}_{os.getpid()}_{next(_count)}"
    _do(f"CREATE DATABASE {name} {how}")
    try:
        yield make_url(server()).set(database=name).render_as_string(hide_password=False)
    finally:
        _do(f"DROP DATABASE {name} WITH (FORCE)")
