"""The standards' tables as parts, and what else is read from published tables."""
