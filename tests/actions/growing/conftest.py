"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "page_correct_variety": "test_correct_variety.py",
    "page_varieties": "test_varieties.py",
    "page_where_i_grow": "../../web/growing/test_where_i_grow.py",
    "shelters": "../../web/growing/test_edited_by_two.py",
    "variety_meant": "test_whole_acts.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
