import pytest

from exchange.words.sharing import share_out as words


@pytest.mark.parametrize(
    ("by_mail", "by_hand", "said"),
    [
        (0, 0, "No letter goes out."),
        (1, 0, "1 letter goes out, by mail."),
        (0, 1, "1 letter goes out, for you to hand over."),
        (9, 2, "11 letters go out: 9 by mail, 2 for you to hand over."),
    ],
)
def test_the_letters_that_will_go_out_are_counted_and_parted(by_mail, by_hand, said):
    assert words.letters_sentence(by_mail, by_hand).replace("\u00a0", " ") == said


@pytest.mark.parametrize(
    ("plants", "met", "said"),
    [
        (0, 0, "0 plants are given; 0 claims are met in full. Everybody it touches is told."),
        (1, 1, "1 plant is given; 1 claim is met in full. Everybody it touches is told."),
        (24, 11, "24 plants are given; 11 claims are met in full. Everybody it touches is told."),
    ],
)
def test_what_was_confirmed_is_counted_in_singular_and_plural(plants, met, said):
    assert words.confirmed_sentence(plants, met).replace("\u00a0", " ") == said


def test_nothing_given_is_said_plainly():
    assert words.giving_sentence(0, 0, 0) == "Nothing is given."
    assert "nothing" not in words.giving_sentence(2, 1, 1).lower()


def test_what_is_not_met_is_promised_to_the_next_only_where_something_is_not():
    assert words.met_sentence(2, 2).replace("\u00a0", " ") == "2 of 2 claims are met in full."
    assert "next share-out" in words.met_sentence(1, 2)


@pytest.mark.parametrize(("spares", "them"), [(1, "it cannot give it"), (3, "it cannot give them")])
def test_the_warning_names_how_many_spares_cannot_wait(spares, them):
    said = words.too_late_sentence(spares).replace("\u00a0", " ")

    assert said.startswith(f"{spares} spare")
    assert them in said


def test_what_leaving_a_parcel_out_loses_reads_by_the_rule_that_falls():
    said = [words.lost_by_leaving_out(rule, 2) for rule in (1, 2, 3, 4)]

    assert len(set(said)) == 4
    assert said[3] == "somebody’s second choice"
