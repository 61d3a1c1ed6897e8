"""The pages: one blueprint per noun, each in the module of its name."""

from importlib import import_module

from flask import Flask

from exchange.web.frame import filters, headers, session
from exchange.web.frame.page_frame import frame_for_templates
from exchange.web.frame.session import Wiring

PAGES = (
    "frame.entry",
    "people.sign_in",
    "people.joining",
    "people.circle_choice",
    "people.acting_for",
    "home.answers",
    "home.todo",
    "home.first_steps",
    "sharing.spares",
    "sharing.spare_lines",
    "sharing.claims",
    "sharing.claim_answer",
    "sharing.left_overs",
    "growing.varieties",
    "growing.variety_mending",
    "growing.plant_classes",
    "sharing.share_out",
    "sharing.share_out_changes",
    "posting.parcels",
    "posting.parcel_ends",
    "posting.boxes",
    "posting.postage",
    "posting.somebody_else",
    "posting.no_day",
    "growing.where_i_grow",
    "people.own_details",
    "people.own_account",
    "posting.calendars",
    "posting.papers",
    "circle.circle",
    "weather.weather",
    "weather.forecast_verification",
    "circle.terms",
    "posting.ways",
    "posting.closures",
    "people.inviting",
    "growing.setting_up",
    "people.members",
    "people.member_merging",
    "people.letters",
    "frame.tasks",
    "circle.deeds",
    "circle.lists",
    "circle.handing_on",
    "circle.held",
    "circle.leaving",
    "circle.own_words",
    "circle.ring_list",
    "circle.season",
    "circle.spreadsheets",
    "frame.help",
)
"""Modules whose `blueprint` is registered."""


def register(app: Flask, wired: Wiring) -> None:
    """Give an app all pages, the gate before them and the frame around them."""
    headers.register(app)
    session.register(app, wired)
    filters.register(app)
    app.context_processor(frame_for_templates)
    for name in PAGES:
        app.register_blueprint(import_module(f"exchange.web.{name}").blueprint)
