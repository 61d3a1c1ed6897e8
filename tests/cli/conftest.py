"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "install_questions": "test_asking.py",
    "house": "test_install.py",
    "invite": "test_install.py",
    "jobs": "test_install.py",
    "records": "test_install.py",
    "replay": "../domain/posting/replay/test_run.py",
    "serve": "test_install.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
