"""Where a press leads back to, and the notice with its Undo."""

from flask import flash, redirect, request
from werkzeug.wrappers import Response

UNDO = "undo "
"""A notice of this category carries the address that undoes what was done."""


def done(fact: str, undo_url: str = "") -> None:
    """Say what was done, with a button that undoes it."""
    flash(fact, UNDO + undo_url if undo_url else "done")


def back(otherwise: str) -> Response:
    """Lead back to the page of ours that the press came from."""
    return redirect(own_path(request.form.get("back", ""), otherwise), 303)


def own_path(wanted: str, otherwise: str) -> str:
    """Give the wanted path if it is one of ours; nothing leads elsewhere."""
    is_own = wanted.startswith("/") and not wanted.startswith(("//", "/\\"))
    return wanted if is_own and wanted.isprintable() else otherwise
