"""The settings of one installation, each with its default, and what cannot work refused."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from pathlib import Path
from urllib.parse import urlsplit

PREFIX = "EXCHANGE_"
MORNING = time(9, 0, tzinfo=UTC)

PAPER_SIZES = ("A4", "Letter")
LOG_LEVELS = ("DEBUG", "INFO", "WARNING", "ERROR")
FORECAST_SOURCES = ("open-meteo", "saved", "none")


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
    """All that can be set for one installation; docs/settings.md says each in plain words.

    Raises
    ------
    SettingRefused
        When a value cannot be used. The sentence names the setting.
    """

    data_folder: Path = field(default_factory=home_folder)
    database_url: str = ""
    host: str = "127.0.0.1"
    port: int = 8080
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
    today: date | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot work."""
        _whole_number_within(self, "port", 0, 65535)
        _whole_number_within(self, "mail_port", 1, 65535)
        _whole_number_within(self, "proxy_hops", 0, 10)
        _one_of(self, "paper_size", PAPER_SIZES)
        _one_of(self, "log_level", LOG_LEVELS)
        _one_of(self, "forecast_source", FORECAST_SOURCES)
        _web_address(self, "forecast_url")
        if self.public_url:
            _web_address(self, "public_url")
        if self.mail_server and "@" not in self.mail_from:
            raise SettingRefused(
                "mail_from", "must hold the address the circle's letters come from."
            )
        if self.forecast_source == "saved" and self.forecast_file is None:
            raise SettingRefused("forecast_file", "must name the saved forecast to read.")

    @property
    def database(self) -> str:
        """The address of the database: the one set, or a SQLite file in the data folder."""
        return self.database_url or f"sqlite:///{self.data_folder.resolve() / 'circle.sqlite'}"

    @property
    def address(self) -> str:
        """Where members find the pages, without a closing stroke."""
        return self.public_url.rstrip("/") or f"http://{self.host}:{self.port}"

    def circle_now(self, machine_now: datetime) -> datetime:
        """Return the circle's now: the machine's, or the fixed day at nine in the morning, UTC."""
        return machine_now if self.today is None else datetime.combine(self.today, MORNING)


def _whole_number_within(settings: Settings, name: str, lowest: int, highest: int) -> None:
    if not lowest <= getattr(settings, name) <= highest:
        raise SettingRefused(name, f"must lie between {lowest} and {highest}.")


def _one_of(settings: Settings, name: str, allowed: tuple[str, ...]) -> None:
    if getattr(settings, name) not in allowed:
        raise SettingRefused(name, f"must be one of {', '.join(allowed)}.")


def _web_address(settings: Settings, name: str) -> None:
    try:
        parts = urlsplit(getattr(settings, name))
    except ValueError:
        parts = urlsplit("")
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise SettingRefused(name, "must be a web address that begins with http:// or https://.")
