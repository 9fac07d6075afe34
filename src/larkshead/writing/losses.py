"""What a writer could not express."""

from __future__ import annotations

from typing import Literal

from larkshead.records import dataclass, field


@dataclass(slots=True)
class Loss:
    """One loss of a conversion.

    ``kind``: dropped (not in the output at all), approximated (there in another shape), assumed (written with
    something the pattern does not say). ``step`` is the model object concerned, so that its origin can be found.
    """

    kind: Literal["dropped", "approximated", "assumed"]
    message: str
    step: object | None = None


@dataclass(slots=True)
class Written:
    """What a writer gives back."""

    text: str
    losses: list[Loss] = field(default_factory=list)
