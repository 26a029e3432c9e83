"""Parts worked in letters: their relationships with no data, and what typed lines say of them."""

from marker.kinds.algebra.letters import LettersSpec, in_letters
from marker.kinds.algebra.statements import Said, Working, read_working

__all__ = ["LettersSpec", "Said", "Working", "in_letters", "read_working"]
