"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "ods_scan": "test_workbook_file.py",
    "xlsx_scan": "test_workbook_file.py",
    "workbook_scan": "test_workbook_file.py",
    "refused_file": "test_any_file.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
