"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "observations": "test_own_daily_file.py",
    "outlooks": "test_frost_notes.py",
    "page_weather": "../../web/weather/test_weather.py",
    "replay": "../../domain/posting/replay/test_run.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
