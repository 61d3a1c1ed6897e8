"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "cautions": "../posting/test_care.py",
    "mergers": "../../web/growing/test_variety_mending.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
