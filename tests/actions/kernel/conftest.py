"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "actor": "../posting/test_calendars.py",
    "edits": "../../web/people/test_own_details.py",
    "health": "../../web/frame/test_headers.py",
    "hours": "../weather/test_frost_tonight.py",
    "links": "../posting/test_questions.py",
    "mergers": "../growing/test_merge_varieties.py",
    "refusals": "test_tasks.py",
    "scanning": "../../papers/test_qr_code.py",
    "terms": "../../web/circle/test_terms.py",
    "terms_table": "../../web/circle/test_terms.py",
    "trial_letter": "../../cli/test_asking.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
