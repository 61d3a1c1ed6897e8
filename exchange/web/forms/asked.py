"""What every form does: kept when it comes back, refusals beside the field they belong to."""

from types import TracebackType

from flask import request
from werkzeug.datastructures import ImmutableMultiDict
from wtforms import Form

from exchange.actions.refused import RefusedError

NOT_TAKEN = 422
"""The status of a form that comes back [HTTP status]."""


def sent() -> ImmutableMultiDict[str, str] | None:
    """Give what was sent, or None on a first visit: an empty answer would clear ticks and choices."""
    return request.form if request.method == "POST" else None


def answered(form: Form) -> bool:
    """Say whether the form was sent and its fields read well."""
    return request.method == "POST" and bool(form.validate())


def blame(form: Form, refused: RefusedError) -> None:
    """Put a refusal beside its field, or above the form when the form has no such field."""
    if refused.field in form:
        field = form[refused.field]
        field.errors = [*field.errors, str(refused)]
    else:
        form.form_errors.append(str(refused))


class BlamesRefusals:
    """Around an act a form asks for: a refusal is put beside its field and ends the block."""

    def __init__(self, form: Form) -> None:
        self.form = form

    def __enter__(self) -> None: ...

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> bool:
        if isinstance(error, RefusedError):
            blame(self.form, error)
            return True
        return False


def status(form: Form) -> int:
    """Give the status a page with this form is shown with."""
    return NOT_TAKEN if form.errors else 200
