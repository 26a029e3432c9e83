"""kind = "derivation": "show that r = mv/(Bq)" in letters, from its relationships to the target."""

from marker.kinds.base import Kind
from marker.kinds.derivation.compiled import compile_derivation, model_derivation
from marker.kinds.derivation.mark import mark_derivation
from marker.kinds.derivation.spec import DerivationSpec

KIND = Kind(name="derivation", spec=DerivationSpec, compile=compile_derivation, mark=mark_derivation, model=model_derivation)

__all__ = ["KIND"]
