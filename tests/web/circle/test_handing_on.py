"""The pack for the next organiser on its page; handing on is asked once."""

from tests.web.walk import furnish


def test_the_pack_tells_promises_dates_and_how_it_is_run(winnie, circle):
    furnish(circle)
    page = winnie.get("/circle/hand-over").text

    for said in ("What stands where", "Open promises", "How it is run", "Spring", "Effie"):
        assert said in page


def test_it_is_asked_once_then_handed_on(winnie, effie, circle):
    address = f"/circle/hand-over/{circle['Effie'].id}"

    assert "and you no longer do" in winnie.get(address).text
    winnie.post(address, {})

    assert winnie.get("/circle/hand-over").status_code == 403
    assert effie.get("/circle/hand-over").status_code == 200


def test_a_refusal_is_told(winnie, circle):
    answer = winnie.post(f"/circle/hand-over/{circle['Winnie'].id}", {}, follow_redirects=True)

    assert "You have it already." in answer.text
