"""QR codes are read by another program than the one that made them."""

import subprocess

import pytest
from PIL import Image

from exchange.actions.kernel.scanning import address_to_scan
from exchange.papers.qr_code import QUIET_ZONE, squares_of
from tests.programs import program

TEXTS = [
    "http://192.168.1.7:8080",
    "http://[fe80::1]:8080/",
    "https://circle.example/join/" + "Ab9-_" * 9,
    "A",
    "x" * 150,
]


def read(rows, folder):
    """Draw the squares, eight dots wide, and give what a camera program reads."""
    wide = 8
    picture = Image.new("1", (len(rows[0]) * wide, len(rows) * wide), 1)
    for y, row in enumerate(rows):
        for x, dark in enumerate(row):
            if dark:
                picture.paste(0, (x * wide, y * wide, (x + 1) * wide, (y + 1) * wide))
    path = folder / "code.png"
    picture.save(path)
    words = [program("zbarimg"), "--quiet", "--raw", str(path)]
    return subprocess.run(words, capture_output=True, text=True, check=True).stdout.strip()


@pytest.mark.parametrize("text", TEXTS)
def test_a_code_is_read_as_the_text_it_was_made_of(text, tmp_path):
    assert read(squares_of(text), tmp_path) == text


def test_it_has_its_blank_border():
    rows = squares_of("A")

    assert not any(any(row) for row in rows[:QUIET_ZONE] + rows[-QUIET_ZONE:])
    assert not any(row[at] for row in rows for at in (*range(QUIET_ZONE), *range(-QUIET_ZONE, 0)))


def test_the_picture_on_the_terminal_holds_the_same_squares(tmp_path):
    halves = {" ": (0, 0), "\u2580": (1, 0), "\u2584": (0, 1), "\u2588": (1, 1)}
    rows = []
    for line in address_to_scan(TEXTS[0]).splitlines():
        pairs = [halves[sign] for sign in line]
        rows += [[upper for upper, _lower in pairs], [lower for _upper, lower in pairs]]

    assert read(rows, tmp_path) == TEXTS[0]
