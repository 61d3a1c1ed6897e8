"""What every form does: kept when it comes back."""

from flask import request
from werkzeug.datastructures import ImmutableMultiDict
from wtforms import Form

NOT_TAKEN = 422
"""The status of a form that comes back [HTTP status]."""


def sent() -> ImmutableMultiDict[str, str] | None:
    """Give what was sent, or None on a first visit: an empty answer would clear ticks and choices."""
    return request.form if request.method == "POST" else None


def answered(form: Form) -> bool:
    """Say whether the form was sent and its fields read well."""
    return request.method == "POST" and bool(form.validate())


def status(form: Form) -> int:
    """Give the status a page with this form is shown with."""
    return NOT_TAKEN if form.errors else 200
