"""Programs of the system that tests run: found, or the test is left out and says what to install."""

import os
import shutil
from typing import NoReturn

import pytest

PACKAGES = {
    "chromium": "chromium",
    "git": "git",
    "gpg": "gnupg",
    "gpgconf": "gnupg",
    "openssl": "openssl",
    "pdffonts": "poppler-utils",
    "pdfinfo": "poppler-utils",
    "pdftotext": "poppler-utils",
    "qpdf": "qpdf",
    "zbarimg": "zbar-tools",
}
"""The Debian package of every system program that a test runs."""


def program(name: str) -> str:
    """Give the path of a program; where it is not installed, the test that asks is left out."""
    found = shutil.which(name)
    if found is None:
        left_out(f"This test needs {name}: apt-get install {PACKAGES[name]}.")
    return found


def postgresql() -> str:
    """Give the address of the PostgreSQL server on which tests may make and drop databases."""
    address = os.environ.get("EXCHANGE_TEST_POSTGRESQL", "")
    if not address:
        left_out(
            "This test needs a PostgreSQL server: apt-get install postgresql, and set"
            " EXCHANGE_TEST_POSTGRESQL=postgresql+psycopg://..., or start .ci/run."
        )
    return address


def left_out(why: str) -> NoReturn:
    """Skip the test that asks, or fail it where EXCHANGE_TEST_REQUIRE_ALL is set."""
    if os.environ.get("EXCHANGE_TEST_REQUIRE_ALL", "") not in ("", "0"):
        pytest.fail(f"{why} (EXCHANGE_TEST_REQUIRE_ALL is set, so nothing is left out.)")
    pytest.skip(why)
