"""The door for programs: a store, and on it the same words as the commands."""

from xref.services.open.door import OpenStore, open_store

__all__ = ["OpenStore", "open_store"]
