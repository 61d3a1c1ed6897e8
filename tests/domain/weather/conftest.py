"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "corrected": "test_outlook.py",
    "forecast": "../posting/test_outage.py",
    "hazard": "test_frost.py",
    "note": "test_outlook.py",
    "scoring": "test_compare.py",
    "sun": "../../reference/test_sun.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
