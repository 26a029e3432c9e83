"""Units, constants, relationships and the numeric truth of an equality."""
