"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "answer_forms": "test_answers.py",
    "parts_charts": "test_parts_page.py",
    "parts_form": "test_parts_page.py",
    "questions": "../../actions/posting/test_questions.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
