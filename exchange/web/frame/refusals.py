"""What pages do with a refusal: tell it as a notice, or put it beside the field it belongs to."""

from collections.abc import Callable
from types import TracebackType
from typing import TypeVar

from flask import flash
from wtforms import Form

from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.kernel.refusals import RefusedError


class Refusals:
    """Put round an act: a refusal is shown and ends the block; the code after the block goes on."""

    def __init__(self, say: Callable[[RefusedError], None]) -> None:
        self.say = say

    def __enter__(self) -> None: ...

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> bool:
        if isinstance(error, RefusedError):
            self.say(error)
            return True
        return False


def refusals_told() -> Refusals:
    """Tell a refusal as a notice on the next page."""
    return Refusals(lambda refused: flash(str(refused), "needs_you"))


def refusals_beside(form: Form) -> Refusals:
    """Put a refusal beside its field."""
    return Refusals(lambda refused: blame(form, refused))


FormKind = TypeVar("FormKind", bound=Form)


def with_faults_of(sent: Form, shown: FormKind) -> FormKind:
    """Give the form to be shown again, with what was wrong with the form as it was sent.

    Parameters
    ----------
    sent : made of what was sent, before the present values were known
    shown : made of the present values, and filled with what was sent
    """
    shown.validate()
    for field in sent:
        if field.name in shown and field.errors and not shown[field.name].errors:
            shown[field.name].errors = field.errors
    shown.form_errors.extend(sent.form_errors)
    return shown


def blame(form: Form, refused: RefusedError) -> None:
    """Put a refusal beside its field, or above the form when the form has no such field."""
    if isinstance(refused, EditedMeanwhileError):
        form.edited_meanwhile = refused
    if refused.field in form:
        field = form[refused.field]
        field.errors = [*field.errors, str(refused)]
    else:
        form.form_errors.append(str(refused))
