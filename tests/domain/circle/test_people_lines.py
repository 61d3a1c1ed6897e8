import pytest

from exchange.domain.circle.people_lines import (
    LONGEST_LINE,
    MOST_PEOPLE,
    TooManyPeopleError,
    first_and_surname,
    names_two,
    read_people,
)


@pytest.mark.parametrize(
    ("line", "name", "town", "email"),
    [
        (
            "Morag Ross, Inverness, morag@example.org",
            "Morag Ross",
            "Inverness",
            "morag@example.org",
        ),
        ("Morag", "Morag", "", ""),
        ("Morag, Inverness", "Morag", "Inverness", ""),
        ("Morag, morag@example.org", "Morag", "", "morag@example.org"),
        ("morag@example.org", "", "", "morag@example.org"),
        (
            "Odo Tarn, Newport, Essex, odo@example.org",
            "Odo Tarn",
            "Newport, Essex",
            "odo@example.org",
        ),
        ("Odo Tarn\tSY8 1AA\todo@example.org", "Odo Tarn", "SY8 1AA", "odo@example.org"),
        ("Odo Tarn; Ludlow; odo@example.org", "Odo Tarn", "Ludlow", "odo@example.org"),
        ("Odo Tarn <odo@example.org>, Ludlow", "Odo Tarn", "Ludlow", "odo@example.org"),
        ('"Odo Tarn" <odo@example.org>', "Odo Tarn", "", "odo@example.org"),
        ("odo@example.org Odo Tarn, Ludlow", "Odo Tarn", "Ludlow", "odo@example.org"),
        ("Odo Tarn (odo@example.org)", "Odo Tarn", "", "odo@example.org"),
        ("Odo Tarn, mailto:odo@example.org.", "Odo Tarn", "", "odo@example.org"),
        ("3. Odo Tarn, Ludlow", "Odo Tarn", "Ludlow", ""),
        ("- Odo   Tarn ,  Ludlow", "Odo Tarn", "Ludlow", ""),
        ("Odo, , odo@", "Odo", "", "odo@"),
        ("Bjørn Åse, 's-Hertogenbosch", "Bjørn Åse", "'s-Hertogenbosch", ""),
    ],
)
def test_a_line_is_read_into_name_town_and_mail(line, name, town, email):
    (read,) = read_people(line)

    assert (read.name, read.town, read.email) == (name, town, email)


def test_empty_lines_and_the_row_of_headings_are_passed_over():
    read = read_people("Name, Town, Mail\n\n  \n--\nOdo, Ludlow\nName, Ludlow\n")

    assert [one.name for one in read] == ["Odo", "Name"]


def test_a_line_is_read_no_further_than_its_limit():
    (read,) = read_people("x" * (LONGEST_LINE + 9))

    assert len(read.name) == LONGEST_LINE


def test_more_lines_than_the_most_are_refused():
    assert len(read_people("Odo\n" * MOST_PEOPLE)) == MOST_PEOPLE
    with pytest.raises(TooManyPeopleError) as many:
        read_people("Odo\n" * (MOST_PEOPLE + 1))

    assert many.value.lines == MOST_PEOPLE + 1


def test_a_name_parts_after_its_first_word():
    assert first_and_surname("  Odo  van  Tarn ") == ("Odo", "van Tarn")
    assert first_and_surname("Odo") == ("Odo", "")


@pytest.mark.parametrize(
    "name", ["Alan and Dilys Pugh", "Alan & Dilys", "Alan + Dilys", "Alan AND Dilys"]
)
def test_a_couple_on_one_line_is_seen(name):
    assert names_two(name)


@pytest.mark.parametrize("name", ["Andrew Sanders", "Odo Band", "Anderson"])
def test_one_person_is_not_taken_for_a_couple(name):
    assert not names_two(name)
