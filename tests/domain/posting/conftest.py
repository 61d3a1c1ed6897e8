"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "code": "test_grouping.py",
    "heat": "test_risk.py",
    "options": "test_stops.py",
    "packed": "test_moved.py",
    "packing": "test_stops.py",
    "parcel": "test_grouping.py",
    "planned_days": "test_moved.py",
    "reasons": "test_stops.py",
    "scenarios": "test_exposure.py",
    "way": "test_transit.py",
    "weigh": "test_route_point.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
