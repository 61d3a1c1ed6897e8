"""What is held, to be read: kinds by name, varieties by name, no bare numbers of rows."""

from exchange.words.circle import held as words


def test_a_row_is_a_line_with_its_variety_by_name_and_without_row_numbers():
    row = {
        "id": 3,
        "circle_id": 1,
        "variety_id": 7,
        "place_id": 4,
        "plants": 3,
        "held": False,
        "note": "",
    }

    text = words.as_text({"batch": [row]}, {"7": "Chapel Lantern"})

    assert text == "Plants\n- variety: Chapel Lantern; plants: 3; held: no"


def test_a_reason_is_its_sentence_and_an_address_stays_on_its_line():
    text = words.as_text(
        {
            "claim_answer": [
                {"reason": {"sentence": "It went to two."}, "address": "1 Mill\nLudlow"}
            ]
        },
        {},
    )

    assert text.endswith("- reason: It went to two.; address: 1 Mill / Ludlow")


def test_a_chance_reads_as_it_does_everywhere():
    row = {"code": "Laurel 67", "loss_chance": 0.014009091433127249, "announced_loss": 0.0}

    text = words.as_text({"parcel": [row]}, {})

    told = "loss chance: 1 in 100; announced loss: fewer than 1 in 100"
    assert text == f"Parcels\n- code: Laurel 67; {told}".replace(" in 100", "\u00a0in\u00a0100")


def test_a_kind_without_a_title_has_its_own_name():
    assert words.title("new_thing") == "New thing"


def test_very_many_lines_are_left_to_the_file():
    rows = [{"what": str(number)} for number in range(words.MOST_LINES + 3)]

    assert words.as_text({"deed": rows}, {}).endswith("and 3\u00a0more, in the file")
