"""Proving once more who one is, before addresses are shown."""

from flask import url_for
from flask_login import current_user

from exchange.web.frame.session import house, is_fresh


def addresses_open() -> bool:
    """Say whether the reader lately proved who they are, or has no means of proving it again."""
    has_means = bool(getattr(current_user, "password", None)) or house().mail is not None
    return is_fresh() or not has_means


def again_url(next_path: str) -> str:
    """Give where the password is asked for again; those without one sign in by a link once more."""
    if getattr(current_user, "password", None):
        return url_for("security.verify", next=next_path)
    return url_for("sign_in.ask")
