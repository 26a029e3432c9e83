"""What a known fault makes of a right expression, datum or value: the transforms of rubrics/faults.toml carried out."""

from marker.judging.transforms.apply import apply
from marker.judging.transforms.givens import NOTHING, Givens, givens_of

__all__ = ["NOTHING", "Givens", "apply", "givens_of"]
