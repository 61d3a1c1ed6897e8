"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "base": "test_open_meteo.py",
    "http": "test_faults.py",
    "met_norway_format": "test_met_norway.py",
    "open_meteo_format": "test_open_meteo.py",
    "open_meteo_limits": "test_open_meteo.py",
    "services": "test_ask_all.py",
    "us_nws_format": "test_us_nws.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
