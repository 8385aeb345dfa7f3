"""Every write: one unit of work, many rows at once on top of it, and what it changed."""
