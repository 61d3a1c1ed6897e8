"""Writing to members on pages: everybody or chosen ones, then the text to copy and the way back."""

import re


def once_in(page):
    return re.search(r'name="once"[^>]*value="([^"]+)"', page)[1]


def sent(winnie, **changes):
    once = once_in(winnie.get("/letters/own-words").text)
    answers = {"once": once, "to": "everybody", "subject": "Meeting", "text": "At ten.", **changes}
    return winnie.post("/letters/own-words", answers)


def test_a_letter_to_everybody_can_be_copied_afterwards(winnie):
    answer = sent(winnie)
    page = winnie.get(answer.headers["Location"]).text

    assert answer.status_code == 303
    assert "to 3 members: 3 to hand over." in page.replace("\u00a0", " ")
    assert "Meeting\n\nAt ten.\n\nWinnie, for " in page


def test_a_letter_to_a_chosen_member(winnie, circle):
    answer = sent(winnie, to="chosen", members=[circle["Effie"].id])

    page = winnie.get(answer.headers["Location"]).text
    assert re.findall(r"<li>(\w+) .*: to hand over</li>", page) == ["Effie"]


def test_nobody_chosen_is_said_beside_the_names(winnie):
    answer = sent(winnie, to="chosen")

    assert answer.status_code == 422
    assert "Choose at least one member." in answer.text
    assert "At ten." in answer.text


def test_it_is_taken_back_and_stands_no_longer_among_those_written(winnie):
    address = sent(winnie).headers["Location"]
    page = winnie.post(f"{address}/take-back", {}, follow_redirects=True).text

    assert "Taken back from 3 members" in page.replace("\u00a0", " ")
    assert winnie.get(address).status_code == 404
    assert "Written before" not in winnie.get("/letters/own-words").text


def test_the_circles_page_leads_there(winnie):
    assert 'href="/letters/own-words"' in winnie.get("/circle").text
