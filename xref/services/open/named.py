"""What is called by a name: machines, models, sources."""

from __future__ import annotations

from xref.services.changing import named
from xref.services.links import machine
from xref.services.open.group import Group, reads, writes
from xref.services.parts import source


class Machines(Group):
    """Machines with their serials."""

    add = writes("machine add", machine.add)
    every = reads(machine.every)
    change = writes("machine change", named.change_machine)
    remove = writes("machine remove", named.remove_named_machine)


class Models(Group):
    """The names of models; one is made when it is first named."""

    every = reads(named.models)
    change = writes("model change", named.change_model)
    merge = writes("model merge", named.merge_model)
    remove = writes("model remove", named.remove_model)


class Sources(Group):
    """Parts books and other places that knowledge comes from."""

    add = writes("source add", source.add)
    every = reads(source.every)
    change = writes("source change", named.change_source)
    merge = writes("source merge", named.merge_source)
    remove = writes("source remove", named.remove_source)
