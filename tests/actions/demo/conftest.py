"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "build": "../../demo/test_once.py",
    "data": "test_sign_in_links.py",
    "once": "../../demo/test_once.py",
    "people": "test_sign_in_links.py",
    "season": "../../demo/test_once.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
