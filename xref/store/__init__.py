"""The store: SQLAlchemy and SQL live here and nowhere above."""
