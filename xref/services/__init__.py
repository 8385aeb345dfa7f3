"""The use cases: one module each, on one connection or unit of work; nothing here prints."""
