"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chores": "../../web/home/test_todo.py",
    "day_questions": "../posting/test_change_day.py",
    "page_todo": "../../web/home/test_todo.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
