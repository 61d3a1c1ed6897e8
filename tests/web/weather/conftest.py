"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_nights": "test_weather.py",
    "charts": "test_weather.py",
    "credit": "test_weather.py",
    "forecast_verification": "test_weather.py",
    "weather_forms": "test_weather.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
