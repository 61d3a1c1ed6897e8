"""The look keeps its promises: contrast, no inline style or script, one place for colours."""

import re
from itertools import product

import pytest

from tests.house import PACKAGE, TEMPLATES, template_files

SHEETS = PACKAGE / "web" / "static" / "look"
TEXT, GRAPHIC = 4.5, 3.0  # WCAG 2.2, success criteria 1.4.3 and 1.4.11
GROUNDS = ("paper", "sheet", "cold")
PAIRS = [
    *(("text", *pair) for pair in product(("ink", "soft", "leaf", "bloom"), GROUNDS)),
    ("text", "ink", "kraft"),
    ("text", "leaf", "kraft"),
    ("text", "bloom", "kraft"),
    ("text", "ink", "leaf-tint"),
    ("text", "leaf", "leaf-tint"),
    ("text", "ink", "bloom-tint"),
    ("text", "bloom", "bloom-tint"),
    *(("text", "on-leaf", ground) for ground in ("leaf", "leaf-deep", "bloom")),
    *(("graphic", *pair) for pair in product(("rule", "kraft-edge"), ("paper", "sheet"))),
]


def tokens() -> dict[str, dict[str, str]]:
    text = (SHEETS / "tokens.css").read_text(encoding="utf-8")
    light, dark = re.split(r"@media screen and \(prefers-color-scheme: dark\)", text)
    dark = dark.split("}")[0]
    found = {
        name: dict(re.findall(r"--([a-z-]+): (#[0-9A-F]{6});", part))
        for name, part in (("light", light), ("dark", dark))
    }
    assert set(found["light"]) == set(found["dark"])
    return found


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, after WCAG 2.2's definition."""
    shares = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_reckoned_as_published():
    # The extremes: WCAG 2.2, definition of "contrast ratio" (from 1 to 21). The greys on either
    # side of 4.5:1 are from memory.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#FFFFFF", "#FFFFFF") == pytest.approx(1.0)
    assert contrast("#767676", "#FFFFFF") > 4.5 > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize(("kind", "colour", "ground"), PAIRS)
def test_a_pair_of_colours_can_be_told_apart(kind, colour, ground, light):
    found = tokens()[light]

    reached = contrast(found[colour], found[ground])

    assert reached >= (TEXT if kind == "text" else GRAPHIC)


def test_colours_stand_in_the_tokens_only():
    elsewhere = {
        sheet.name: found
        for sheet in SHEETS.glob("*.css")
        if sheet.name != "tokens.css"
        and (found := set(re.findall(r"#[0-9A-Fa-f]{3,8}\b", sheet.read_text(encoding="utf-8"))))
        - {"#000000", "#FFFFFF"}
    }

    assert elsewhere == {}


def test_every_token_that_is_used_is_set():
    text = "".join(sheet.read_text(encoding="utf-8") for sheet in SHEETS.glob("*.css"))

    used = set(re.findall(r"var\(--([a-z0-9-]+)\)", text))
    given = set(re.findall(r"--([a-z0-9-]+):", text))

    assert used - given == set()


def test_nothing_is_fetched_from_elsewhere():
    files = [*SHEETS.glob("*.css"), *SHEETS.parent.glob("*.js"), *template_files()]

    fetching = [
        file.name
        for file in files
        if re.search(
            r"url\([\"']?(https?:)?//|@import|src=[\"']https?:|<link[^>]+https?:", file.read_text()
        )
    ]

    assert fetching == []


@pytest.mark.parametrize(
    "forbidden", [r"\sstyle=", r"<style", r"\son[a-z]+=", r"javascript:", r"<script(?![^>]*\ssrc=)"]
)
def test_no_template_carries_style_or_script(forbidden):
    carrying = [
        str(template)
        for template in template_files()
        if template.suffix == ".html" and re.search(forbidden, template.read_text(encoding="utf-8"))
    ]

    assert carrying == []


def test_every_sheet_is_linked():
    linked = (TEMPLATES / "parts" / "document.html").read_text(encoding="utf-8")

    unlinked = [sheet.stem for sheet in SHEETS.glob("*.css") if f'"{sheet.stem}"' not in linked]

    assert unlinked == []


def test_every_file_of_macros_says_how_it_is_called():
    silent = [
        template.name
        for template in (TEMPLATES / "parts").glob("*.html")
        if not template.read_text(encoding="utf-8").startswith("{# ")
    ]

    assert silent == []


def test_every_class_a_template_uses_is_drawn():
    drawn = "".join(sheet.read_text(encoding="utf-8") for sheet in SHEETS.glob("*.css"))
    named = set(re.findall(r"\.([a-z][a-z-]*)", drawn))
    used = {
        (str(template.relative_to(TEMPLATES)), word)
        for template in template_files()
        if template.suffix == ".html"
        for classes in re.findall(r'class="([a-z -]+)"', template.read_text(encoding="utf-8"))
        for word in classes.split()
    }

    assert {(name, word) for name, word in used if word not in named} == set()
