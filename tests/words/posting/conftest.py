"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "arrivals": "test_care.py",
    "calendars": "../../web/posting/test_calendars.py",
    "parcels": "../../web/posting/test_parcels.py",
    "questions": "../../actions/weather/test_frost_tonight.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
