"""Where modules of this folder are tested that have no test file of their own."""

TESTED_IN = {
    "across": "test_files.py",
    "beside": "test_files.py",
    "cells": "test_files.py",
    "choices": "test_files.py",
    "entry": "test_files.py",
    "heads": "test_files.py",
    "known": "test_files.py",
    "layout": "test_files.py",
    "member_rows": "test_files.py",
    "names": "test_files.py",
    "people": "test_files.py",
    "plant_fields": "test_files.py",
    "plants": "test_files.py",
    "row": "test_files.py",
    "sheet": "test_files.py",
    "variety_rows": "test_files.py",
}
"""Modules without a test file of their own, and the file whose tests use them most."""
