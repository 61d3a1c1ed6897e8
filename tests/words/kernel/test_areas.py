import pytest

from exchange.words.kernel.areas import area_words


@pytest.mark.parametrize(
    ("country", "part", "text"),
    [
        ("GB", "SCT", "Scotland"),
        ("GB", "", "United Kingdom, all of it"),
        ("US", "OR", "United States, OR"),
        ("FR", "", "FR, all of it"),
    ],
)
def test_a_code_without_a_name_stands_for_itself(country, part, text):
    assert area_words(country, part) == text
