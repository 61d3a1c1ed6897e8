"""Opening the installation: the records and services the settings name."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Protocol

from exchange.actions.kernel.actor import House
from exchange.forecasts.services import ForecastServices
from exchange.mail.sending import MailServer, Security
from exchange.records import Books

TLS_PORT = 465
"""Where mail servers speak TLS from the first byte (RFC 8314 section 3.3)."""


class ServiceWishes(Protocol):
    """What the installation is made of, as the settings give it."""

    @property
    def data_folder(self) -> Path: ...
    @property
    def backups_kept(self) -> int: ...
    @property
    def database(self) -> str: ...
    @property
    def address(self) -> str: ...
    @property
    def mail_server(self) -> str: ...
    @property
    def mail_port(self) -> int: ...
    @property
    def mail_user(self) -> str: ...
    @property
    def mail_password(self) -> str: ...
    @property
    def mail_starttls(self) -> bool: ...
    @property
    def mail_from(self) -> str: ...
    @property
    def forecast_source(self) -> str: ...
    @property
    def forecast_order(self) -> tuple[str, ...]: ...
    @property
    def forecast_url(self) -> str: ...
    @property
    def forecast_file(self) -> Path | None: ...
    @property
    def forecast_contact(self) -> str: ...
    @property
    def paper_size(self) -> str: ...
    @property
    def today(self) -> date | None: ...


def open_house(wanted: ServiceWishes, new_token: Callable[[], str]) -> House:
    """Open the records and name the services; `new_token` gives a fresh secret at each call."""
    return House(
        books=Books(wanted.database),
        public_url=wanted.address,
        new_token=new_token,
        mail=mail_server(wanted),
        forecasts=_services(wanted),
        paper=wanted.paper_size,
        mail_from=wanted.mail_from,
        fixed_today=wanted.today,
        folder=wanted.data_folder,
        backups_kept=wanted.backups_kept,
    )


def mail_server(wanted: ServiceWishes) -> MailServer | None:
    """Give the mail server that is set, or None."""
    if not wanted.mail_server:
        return None
    security = Security.NONE
    if wanted.mail_port == TLS_PORT:
        security = Security.TLS
    elif wanted.mail_starttls:
        security = Security.STARTTLS
    return MailServer(
        host=wanted.mail_server,
        port=wanted.mail_port,
        security=security,
        user=wanted.mail_user,
        password=wanted.mail_password,
    )


def _services(wanted: ServiceWishes) -> ForecastServices:
    """Ask the services set, in their order; a saved file or none asks nobody."""
    saved = str(wanted.forecast_file) if wanted.forecast_source == "saved" else ""
    return ForecastServices(
        order=wanted.forecast_order,
        contact=wanted.forecast_contact,
        open_meteo=wanted.forecast_url,
        saved_file=saved,
    )
