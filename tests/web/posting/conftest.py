"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "chart_care": "test_parcels.py",
    "chart_room": "../sharing/test_chart_counts.py",
    "closures": "../circle/test_terms.py",
    "paper_forms": "test_papers.py",
    "parcel_forms": "test_parcels.py",
    "parcel_sentences": "test_parcels.py",
    "sender_form": "test_parcels.py",
    "way_forms": "test_ways.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
