"""The pages: one blueprint a noun, each in the module of its name."""

from importlib import import_module

from flask import Flask

from exchange.web import filters, headers, questions, session
from exchange.web.frame_of_page import frame_for_templates
from exchange.web.session import Wiring

PAGES = (
    "door",
    "sign_in",
    "invitation",
    "circle_choice",
    "act_for",
    "answers",
    "todo",
    "spares",
    "spares_box",
    "claims",
    "claim_why",
    "left_overs",
    "varieties",
    "share_out",
    "parcels",
    "garden",
    "own_terms",
    "own_sign_in",
    "calendars",
    "papers",
    "circle",
    "weather",
    "weather_learned",
    "terms",
    "ways",
    "closures",
    "people",
    "letters",
    "tasks",
    "who_did_what",
    "help",
)
"""Modules whose `blueprint` is registered."""


def register(app: Flask, wired: Wiring) -> None:
    """Give an app all pages, the gate before them and the frame around them."""
    headers.register(app)
    session.register(app, wired)
    filters.register(app)
    questions.register()
    app.context_processor(frame_for_templates)
    for name in PAGES:
        app.register_blueprint(import_module(f"exchange.web.{name}").blueprint)
