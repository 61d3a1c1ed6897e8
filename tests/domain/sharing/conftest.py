"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "case": "test_pairing.py",
    "claim": "test_pairing.py",
    "draw": "test_afterwards.py",
    "dual_check": "test_working.py",
    "explanation": "test_afterwards.py",
    "followed": "test_went.py",
    "forced": "test_parcels.py",
    "former_check": "test_former.py",
    "instance": "test_working.py",
    "model": "test_working.py",
    "pass_check": "test_working.py",
    "preview": "test_afterwards.py",
    "proof": "test_leximin.py",
    "quantities": "test_obstacles.py",
    "reason": "test_obstacles.py",
    "rules": "test_enumeration.py",
    "sourcing": "test_enumeration.py",
    "spare": "test_pairing.py",
    "stages": "test_parcels.py",
    "tighten": "test_parcels.py",
    "states": "../../actions/sharing/test_answers_in_part.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
