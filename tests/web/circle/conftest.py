"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "circle": "../weather/test_weather.py",
    "deeds": "../people/test_acting_for.py",
    "spreadsheet_answers": "test_spreadsheets.py",
    "terms_forms": "test_terms.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
