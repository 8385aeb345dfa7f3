"""How the door's groups are made: one function of the services a line, as a method."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

from sqlalchemy import Connection

from xref.store.open.engine import Store
from xref.store.write.unit import UnitOfWork

P = ParamSpec("P")
T = TypeVar("T")


class Group:
    """What can be done with one sort of thing, in the words of its commands.

    Unless ``patient``, writing does not wait for another writer but raises StoreError.
    """

    def __init__(self, store: Store, patient: bool = True) -> None:
        self._store = store
        self._patient = patient


def reads(function: Callable[Concatenate[Connection, P], T]) -> Callable[Concatenate[Group, P], T]:
    """A method that calls ``function`` with one state of the store."""

    @wraps(function)
    def call(self: Group, /, *args: P.args, **kwargs: P.kwargs) -> T:
        with self._store.reading() as conn:
            return function(conn, *args, **kwargs)

    return call


def writes(
    action: str, function: Callable[Concatenate[UnitOfWork, P], T], watched: bool = True
) -> Callable[Concatenate[Group, P], T]:
    """A method that keeps all that ``function`` writes, or nothing.

    Unless not ``watched``, the history has it as ``action``, which can be taken back.
    """

    @wraps(function)
    def call(self: Group, /, *args: P.args, **kwargs: P.kwargs) -> T:
        with self._store.writing(action, watched, self._patient) as unit:
            done = function(unit, *args, **kwargs)
            unit.commit()
        return done

    return call
