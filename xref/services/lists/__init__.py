"""Bring a spreadsheet's parts into the store: merged, nothing lost, all of it or nothing."""

from xref.services.lists.imported import Imported
from xref.services.lists.run import Wanted, import_file

__all__ = ["Imported", "Wanted", "import_file"]
