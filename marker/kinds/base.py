"""What a kind of part must offer, and what every part of a scheme has in common."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from marker.results import OwnValue, PartResult
from marker.scheme.convention import Convention

Carried = Mapping[str, OwnValue]


def _listed(typed: Any) -> Any:
    return [typed] if isinstance(typed, str) else typed


# a list of texts in a scheme file, where one text may stand without its brackets
Texts = Annotated[list[str], BeforeValidator(_listed, json_schema_input_type=str | list[str])]


class PartSpec(BaseModel):
    """The keys every part of a scheme file has. A kind adds its own keys in a subclass.

    name     as candidates' columns call it, "2b";  question  the question it belongs to (default: the name's leading digits or letters)
    marks    the part's maximum;  stem  the question's text;  rulings  rulings of the convention replaced for this part
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    name: str
    kind: str = "calculation"
    marks: int = Field(ge=1)
    question: str = ""
    stem: str = ""
    rulings: dict[str, Any] = Field(default_factory=dict)


def _nothing(spec: Any) -> str:
    return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of part.

    spec      the pydantic model of its keys in the scheme file
    compile   spec and convention -> whatever `mark` needs; raises SchemeError with the key and the mend
    mark      compiled part, typed lines, values carried from earlier parts -> result; pure, never raises on any text
    model     compiled part -> lines of a model answer, which earn full marks
    compile_in_paper  as `compile`, given also what the paper holds before this part (data sheet, earlier parts); None when
              a part of this kind stands alone
    answer    compiled part -> the answer as a scheme's author should see it, "" where the last line of the model answer says it
    carries   whether `mark` looks at values carried from earlier parts
    beside    spec -> text of what is read from beside the scheme to compile it, "" for nothing
    """

    name: str
    spec: type[PartSpec]
    compile: Callable[[Any, Convention], Any]
    mark: Callable[[Any, Sequence[str], Carried], PartResult]
    model: Callable[[Any], tuple[str, ...]]
    compile_in_paper: Callable[[Any, Convention, Any], Any] | None = None
    answer: Callable[[Any], str] = _nothing
    carries: bool = False
    beside: Callable[[Any], str] = _nothing
