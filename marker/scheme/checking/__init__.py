"""Proving a scheme: does it hold together, and does it give made-up responses the marks the convention gives them?"""

from marker.scheme.checking.check import check_paper, check_part, check_scheme
from marker.scheme.checking.model import Came, PartProof, Proof, Remark, Trial, Weight

__all__ = ["Came", "PartProof", "Proof", "Remark", "Trial", "Weight", "check_paper", "check_part", "check_scheme"]
