"""The scheme file, conventions and relationship sheets."""
