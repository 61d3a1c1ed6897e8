"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "belief": "test_worth.py",
    "bound": "test_run.py",
    "expected": "test_worth.py",
    "ours": "test_run.py",
    "rules": "test_run.py",
    "springs": "test_process.py",
    "value": "test_worth.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
