"""exchange forecast: whose forecast it is, what went wrong, and the status it ends with."""

import json
from datetime import UTC, datetime, time, timedelta

import pytest
from click.testing import CliRunner

from exchange.cli import main
from tests.app_fixtures import NOW, a_house, ring
from tests.forecasts.answers import open_meteo


@pytest.fixture
def folder(tmp_path):
    with a_house(tmp_path) as house:
        ring(house, members=("Winnie",))
    return tmp_path


def forecast(folder, monkeypatch, *words, **environment):
    monkeypatch.setenv("EXCHANGE_TODAY", str(NOW.date()))
    for name, value in environment.items():
        monkeypatch.setenv(f"EXCHANGE_{name.upper()}", str(value))
    return CliRunner().invoke(main, ["--folder", str(folder), "forecast", *words])


def a_saved_file(folder):
    start = datetime.combine(NOW.date() - timedelta(days=1), time(0), UTC)
    path = folder / "saved.json"
    path.write_text(json.dumps(open_meteo((5.0,) * 96, start=f"{start:%Y-%m-%dT%H:%M}")))
    return path


def test_it_says_whose_forecast_it_is_and_ends_well(folder, monkeypatch):
    saved = a_saved_file(folder)
    result = forecast(folder, monkeypatch, forecast_source="saved", forecast_file=saved)

    assert result.exit_code == 0, result.output
    assert "Fetched for 1 places (saved file: 1)" in result.output


def test_with_nothing_fetched_and_nothing_fresh_it_says_why_and_ends_with_1(folder, monkeypatch):
    gone = folder / "gone.json"
    result = forecast(folder, monkeypatch, forecast_source="saved", forecast_file=gone)

    assert result.exit_code == 1
    assert "saved file: The saved forecast could not be opened." in result.stderr


def test_a_fault_while_what_is_kept_is_fresh_ends_well(folder, monkeypatch):
    saved = a_saved_file(folder)
    forecast(folder, monkeypatch, forecast_source="saved", forecast_file=saved)
    saved.unlink()
    result = forecast(folder, monkeypatch, forecast_source="saved", forecast_file=saved)

    assert result.exit_code == 0, result.output
    assert "1 were still fresh" in result.output
