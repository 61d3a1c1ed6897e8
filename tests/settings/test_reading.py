"""Settings: where they are read from, what is refused, and that each is documented."""

import dataclasses
import re
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from exchange.forecasts import ask_all
from exchange.settings import SettingRefused, Settings, read_settings, reading
from exchange.settings.values import FORECAST_SERVICES
from tests.house import ROOT

DOCUMENT = (ROOT / "docs" / "settings.md").read_text(encoding="utf-8")
NAMES = [each.name for each in dataclasses.fields(Settings)]


def settings_with(folder: Path, file: str = "", **environment: str) -> Settings:
    (folder / "settings.toml").write_text(file, encoding="utf-8")
    return read_settings(environment, folder)


def test_nothing_needs_to_be_set(tmp_path):
    settings = read_settings({}, tmp_path)

    assert settings == Settings(data_folder=tmp_path)


def test_the_file_stands_above_the_default(tmp_path):
    settings = settings_with(tmp_path, "port = 9000")

    assert settings.port == 9000


def test_the_environment_stands_above_the_file(tmp_path):
    settings = settings_with(tmp_path, "port = 9000", EXCHANGE_PORT="9001")

    assert settings.port == 9001


def test_the_folder_of_the_command_line_stands_above_the_environment(tmp_path):
    settings = read_settings({"EXCHANGE_DATA_FOLDER": "/elsewhere"}, tmp_path)

    assert settings.data_folder == tmp_path


def test_the_file_is_looked_for_in_the_folder_the_environment_names(tmp_path):
    (tmp_path / "settings.toml").write_text('host = "192.0.2.1"')

    settings = read_settings({"EXCHANGE_DATA_FOLDER": str(tmp_path)})

    assert settings.host == "192.0.2.1"


def test_every_kind_of_value_reads_alike_from_file_and_environment(tmp_path):
    written = settings_with(
        tmp_path,
        'today = 2027-04-05\nworker_in_web = false\nport = 81\nforecast_file = "kept.json"',
    )
    spoken = settings_with(
        tmp_path,
        EXCHANGE_TODAY="2027-04-05",
        EXCHANGE_WORKER_IN_WEB="no",
        EXCHANGE_PORT="81",
        EXCHANGE_FORECAST_FILE="kept.json",
    )

    assert written == spoken
    assert written.today == date(2027, 4, 5)
    assert written.worker_in_web is False


@dataclasses.dataclass(frozen=True)
class WithFigure:
    """Settings with a figure in them."""

    warmth: float = 1.5


def test_a_figure_reads_alike_from_file_and_environment():
    kind = reading._KIND_OF_TYPE[dataclasses.fields(WithFigure)[0].type]

    from_text = [reading._from_text("warmth", kind, text) for text in ("2.5", "2")]
    from_file = [reading._from_toml("warmth", kind, value) for value in (2.5, 2)]

    assert from_text == from_file == [2.5, 2.0]


@pytest.mark.parametrize("text", ["warm", "nan", "inf", ""])
def test_what_is_no_figure_is_refused_by_name(text):
    with pytest.raises(SettingRefused, match=r"warmth .*must be a figure such as 1\.5"):
        reading._from_text("warmth", "figure", text)


def test_the_database_lies_in_the_data_folder_unless_set(tmp_path):
    usual = Settings(data_folder=tmp_path)
    elsewhere = Settings(data_folder=tmp_path, database_url="postgresql+psycopg://db/circle")

    assert usual.database == f"sqlite:///{tmp_path}/circle.sqlite"
    assert elsewhere.database == "postgresql+psycopg://db/circle"


def test_links_begin_with_the_public_address_where_there_is_one():
    assert Settings(port=81).address == "http://127.0.0.1:81"
    assert Settings(public_url="https://circle.example/").address == "https://circle.example"


def test_a_fixed_day_is_the_circles_now_and_otherwise_the_machines_clock():
    machine_now = datetime(2026, 11, 25, 12, 30, tzinfo=UTC)

    assert Settings().circle_now(machine_now) == machine_now
    assert Settings(today=date(2027, 4, 5)).circle_now(machine_now).date() == date(2027, 4, 5)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("port", "eighty"),
        ("port", "70000"),
        ("mail_port", "0"),
        ("proxy_hops", "-1"),
        ("worker_in_web", "perhaps"),
        ("today", "5 April"),
        ("public_url", "circle.example"),
        ("forecast_url", "http://["),
        ("forecast_source", "tea leaves"),
        ("paper_size", "A3"),
        ("database_url", "mysql://db/circle"),
        ("database_url", "circle.sqlite"),
        ("log_level", "LOUD"),
        ("colour", "red"),
    ],
)
def test_what_cannot_work_is_refused_by_name(tmp_path, name, text):
    with pytest.raises(SettingRefused, match=rf"^The setting {name} .*\.$") as refused:
        settings_with(tmp_path, **{f"EXCHANGE_{name.upper()}": text})

    assert refused.value.name == name


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("port", 'port = "80"'),
        ("port", "port = true"),
        ("worker_in_web", "worker_in_web = 1"),
        ("today", 'today = "2027-04-05"'),
        ("colour", 'colour = "red"'),
        ("data_folder", 'data_folder = "elsewhere"'),
        ("data_folder", "port = "),
    ],
)
def test_what_the_file_gets_wrong_is_refused_by_name(tmp_path, name, line):
    with pytest.raises(SettingRefused, match=f"The setting {name} "):
        settings_with(tmp_path, line)


def test_a_mail_server_needs_an_address_the_letters_come_from(tmp_path):
    with pytest.raises(SettingRefused, match="The setting mail_from"):
        settings_with(tmp_path, 'mail_server = "mail.example"')


def test_a_saved_forecast_needs_its_file(tmp_path):
    with pytest.raises(SettingRefused, match="The setting forecast_file"):
        settings_with(tmp_path, 'forecast_source = "saved"')


def test_several_forecast_services_are_asked_in_the_order_written(tmp_path):
    written = 'forecast_source = "met-norway, open-meteo"\nforecast_contact = "maud@example.org"'
    settings = settings_with(tmp_path, written)

    assert settings.forecast_order == ("met-norway", "open-meteo")
    assert Settings(forecast_source="none").forecast_order == ()


def test_the_settings_know_every_forecast_service_there_is():
    assert FORECAST_SERVICES == ask_all.NAMES
    assert all(f"`{name}`" in DOCUMENT for name in ask_all.NAMES)


@pytest.mark.parametrize("wrong", ["open-meteo,tea", "open-meteo,open-meteo", "saved,none", ""])
def test_a_list_of_services_is_refused_when_one_is_unknown_or_named_twice(tmp_path, wrong):
    with pytest.raises(SettingRefused, match="The setting forecast_source"):
        settings_with(tmp_path, f'forecast_source = "{wrong}"')


def test_a_service_that_wants_an_address_is_not_asked_without(tmp_path):
    with pytest.raises(SettingRefused, match="The setting forecast_contact"):
        settings_with(tmp_path, 'forecast_source = "open-meteo, met-norway"')


def test_settings_of_the_tests_themselves_are_not_read(tmp_path):
    assert settings_with(tmp_path, EXCHANGE_TEST_SCALE="3") == Settings(data_folder=tmp_path)


def test_the_mail_password_is_not_shown():
    assert "hidden words" not in repr(Settings(mail_password="hidden words"))


@pytest.mark.parametrize("name", NAMES)
def test_each_setting_is_documented_with_its_default(name):
    row = re.search(
        rf"^\| `{name}` \| (?P<default>[^|]*) \| (?P<meaning>[^|]+) \|$", DOCUMENT, re.MULTILINE
    )

    assert row, f"docs/settings.md has no row for {name}"
    if name != "data_folder":
        assert row["default"].strip(" `") == _as_written(getattr(Settings(), name))


def test_no_setting_is_documented_that_does_not_exist():
    documented = re.findall(r"^\| `(\w+)` \|", DOCUMENT, re.MULTILINE)

    assert sorted(documented) == sorted(NAMES)


def _as_written(value: object) -> str:
    """Write a default as the file would hold it; nothing where it is empty."""
    if isinstance(value, bool):
        return str(value).lower()
    return "" if value is None else str(value)
