"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "page_no_day": "../../web/posting/test_no_day.py",
    "warmth_ahead": "../../web/posting/test_no_day.py",
    "announcements": "test_change_day.py",
    "borders": "../sharing/test_spares.py",
    "closures": "../../web/circle/test_terms.py",
    "came_alive": "test_parcels.py",
    "gone": "test_postage.py",
    "page_postage": "test_postage.py",
    "page_moving": "test_whole_acts.py",
    "in_parcel": "../sharing/test_asked_together.py",
    "diary": "test_questions.py",
    "not_gone": "test_questions.py",
    "packaged_ways": "test_learned_odds.py",
    "page_papers": "../../web/posting/test_papers.py",
    "page_parcel": "../../web/posting/test_parcels.py",
    "page_parcels": "../../web/posting/test_parcels.py",
    "page_question": "test_questions.py",
    "page_room": "../../web/home/test_todo.py",
    "paper_files": "../../cli/test_season.py",
    "parcel_facts": "test_papers.py",
    "parcel_letters": "test_change_day.py",
    "parcel_lines": "../sharing/test_share_out_after.py",
    "plan_facts": "test_learned_odds.py",
    "ways": "../../web/circle/test_terms.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
