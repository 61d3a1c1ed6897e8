"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "corrected": "../../actions/weather/test_forecast_verification.py",
    "forecast": "../../actions/posting/test_replan.py",
    "normal": "../../reference/test_frost_dates.py",
    "note": "test_outlook.py",
    "scoring": "../../reference/test_scoring.py",
    "sun": "../../reference/test_sun.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
