"""Showing once more who one is, before addresses are shown."""

from flask import url_for
from flask_login import current_user


def again_url(next_path: str) -> str:
    """Give where the password is asked for again; who has none signs in by a link once more."""
    if getattr(current_user, "password", None):
        return url_for("security.verify", next=next_path)
    return url_for("sign_in.ask")
