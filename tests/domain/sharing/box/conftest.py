"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "doubts": "test_reading.py",
    "entry": "test_reading.py",
    "headings": "test_texts.py",
    "leaders": "test_reading.py",
    "layout": "test_texts.py",
    "meaning": "test_reading.py",
    "names": "test_phrase.py",
    "numbers": "test_phrase.py",
    "other_words": "test_reading.py",
    "plant_words": "test_phrase.py",
    "repeats": "test_texts.py",
    "rows": "test_texts.py",
    "runs": "test_phrase.py",
    "tables": "test_texts.py",
    "tokens": "test_phrase.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
