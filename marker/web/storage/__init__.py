"""What the pages keep: class tests, decisions, people, practice. One SQLite file, or PostgreSQL by one setting."""

from marker.web.storage.engine import Store, open_store

__all__ = ["Store", "open_store"]
