"""Short written answers: key ideas given as words, synonyms, relations and wordings that cancel; alike answers grouped and settled once."""

from marker.kinds.written.groups import Group, group_key, groups
from marker.kinds.written.kind import KIND, compile_written, mark_written
from marker.kinds.written.spec import WrittenSpec

__all__ = ["KIND", "Group", "WrittenSpec", "compile_written", "group_key", "groups", "mark_written"]
