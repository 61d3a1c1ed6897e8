"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "spreadsheet": "../../web/circle/test_spreadsheets.py",
    "terms": "../../web/circle/test_terms.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
