"""The settings of one installation, each with its default, and what cannot work refused."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from pathlib import Path
from urllib.parse import urlsplit

PREFIX = "EXCHANGE_"
MORNING = time(9, 0, tzinfo=UTC)

PAPER_SIZES = ("A4", "Letter")
LOG_LEVELS = ("DEBUG", "INFO", "WARNING", "ERROR")
FORECAST_SERVICES = ("open-meteo", "open-meteo-ensemble", "met-norway", "us-nws")
ANSWER_ONLY_WITH_CONTACT = frozenset({"met-norway", "us-nws"})
DATABASES = ("sqlite:///", "postgresql://", "postgresql+psycopg://")
SAVED, NONE = "saved", "none"


class SettingRefused(ValueError):
    """A setting cannot be used; the sentence names it and says what would do."""

    def __init__(self, name: str, complaint: str) -> None:
        self.name = name
        super().__init__(f"The setting {name} ({PREFIX}{name.upper()}) {complaint}")


def home_folder() -> Path:
    """Return the data folder where none is named."""
    return Path.home() / "growers-circle"


@dataclass(frozen=True, slots=True)
class Settings:
    """All that can be set for one installation; docs/settings.md explains each in plain words.

    Raises
    ------
    SettingRefused
        When a value cannot be used. The sentence names the setting.
    """

    data_folder: Path = field(default_factory=home_folder)
    database_url: str = ""
    host: str = "127.0.0.1"
    port: int = 8080
    home_network: bool = False
    public_url: str = ""
    proxy_hops: int = 0
    worker_in_web: bool = True
    log_level: str = "INFO"
    mail_server: str = ""
    mail_port: int = 587
    mail_user: str = ""
    mail_password: str = field(default="", repr=False)
    mail_starttls: bool = True
    mail_from: str = ""
    forecast_source: str = "open-meteo"
    forecast_url: str = "https://api.open-meteo.com"
    forecast_file: Path | None = None
    forecast_contact: str = ""
    paper_size: str = "A4"
    backups_kept: int = 7
    today: date | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot work."""
        _whole_number_within(self, "port", 0, 65535)
        _whole_number_within(self, "mail_port", 1, 65535)
        _whole_number_within(self, "proxy_hops", 0, 10)
        _whole_number_within(self, "backups_kept", 0, 366)
        _one_of(self, "paper_size", PAPER_SIZES)
        _one_of(self, "log_level", LOG_LEVELS)
        _forecast_source(self)
        _web_address(self, "forecast_url")
        if "?" in str(self.data_folder.absolute()):
            # In the address of a database it would end the file's name.
            raise SettingRefused(
                "data_folder", "must be a folder without a question mark in its name."
            )
        if self.database_url and not self.database_url.startswith(DATABASES):
            raise SettingRefused("database_url", f"must begin with {' or '.join(DATABASES)}.")
        if self.public_url:
            _web_address(self, "public_url")
        if self.mail_server and "@" not in self.mail_from:
            raise SettingRefused(
                "mail_from", "must hold the address the circle's letters come from."
            )
        if self.forecast_source == SAVED and self.forecast_file is None:
            raise SettingRefused("forecast_file", "must name the saved forecast to read.")

    @property
    def database(self) -> str:
        """The address of the database: the one set, or a SQLite file in the data folder."""
        return self.database_url or f"sqlite:///{self.data_folder.resolve() / 'circle.sqlite'}"

    @property
    def address(self) -> str:
        """Where members find the pages, without a trailing slash."""
        return self.public_url.rstrip("/") or f"http://{self.host}:{self.port}"

    @property
    def forecast_order(self) -> tuple[str, ...]:
        """The forecast services asked one after the other; none for a saved file or climate only."""
        if self.forecast_source in (SAVED, NONE):
            return ()
        return _listed(self.forecast_source)

    def circle_now(self, machine_now: datetime) -> datetime:
        """Return the circle's now: the machine's, or the fixed day at nine in the morning, UTC."""
        return machine_now if self.today is None else datetime.combine(self.today, MORNING)


def _whole_number_within(settings: Settings, name: str, lowest: int, highest: int) -> None:
    if not lowest <= getattr(settings, name) <= highest:
        raise SettingRefused(name, f"must lie between {lowest} and {highest}.")


def _one_of(settings: Settings, name: str, allowed: tuple[str, ...]) -> None:
    if getattr(settings, name) not in allowed:
        raise SettingRefused(name, f"must be one of {', '.join(allowed)}.")


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(","))


def _forecast_source(settings: Settings) -> None:
    """Refuse unknown services, the same one twice, and those that want to know whom to write to."""
    if settings.forecast_source in (SAVED, NONE):
        return
    order = _listed(settings.forecast_source)
    if not set(order) <= set(FORECAST_SERVICES) or len(set(order)) < len(order):
        services = ", ".join(FORECAST_SERVICES)
        raise SettingRefused(
            "forecast_source",
            f"must be {SAVED}, {NONE}, or one or more of {services}, with commas between them.",
        )
    if ANSWER_ONLY_WITH_CONTACT & set(order) and not settings.forecast_contact:
        raise SettingRefused(
            "forecast_contact",
            "must hold a mail address: one of the forecast services set answers nobody without.",
        )


def _web_address(settings: Settings, name: str) -> None:
    try:
        parts = urlsplit(getattr(settings, name))
    except ValueError:
        parts = urlsplit("")
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise SettingRefused(name, "must be a web address that begins with http:// or https://.")
