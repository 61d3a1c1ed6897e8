"""Editing forms: the second of two editors is shown what the first saved; nothing is lost."""

from collections.abc import Iterable
from hashlib import sha256
from typing import Any

from exchange.actions.kernel.refusals import RefusedError


class EditedMeanwhileError(RefusedError):
    """Somebody else changed the same thing while the form was open.

    Attributes
    ----------
    version : what stands now, for a form that shows both
    """

    def __init__(self, version: str) -> None:
        super().__init__(
            "This was changed by somebody else while you wrote. Both stand below: look at them,"
            " and press again to keep yours."
        )
        self.version = version


def version_of(thing: Any, names: Iterable[str]) -> str:
    """Give a version for named values: the same while they are, another when one changes."""
    values = [(name, _steady(getattr(thing, name))) for name in sorted(names)]
    return sha256(repr(values).encode()).hexdigest()[:16]


def must_be_as_opened(opened: str | None, standing: str) -> None:
    """Refuse an edit of what was changed after its form was opened.

    Parameters
    ----------
    opened : the version the form carries, or None where no form was shown
    standing : the version now, read within the act

    Raises
    ------
    EditedMeanwhileError
        When the two differ.
    """
    if opened is not None and opened != standing:
        raise EditedMeanwhileError(standing)


def _steady(value: Any) -> Any:
    """Put sets in order, so that equal values have equal versions."""
    return sorted(value) if isinstance(value, set | frozenset) else value
