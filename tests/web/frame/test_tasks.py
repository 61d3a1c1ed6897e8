"""The page of a long act: how it stands, who may see it, where its result is looked at."""

import re


def asked(visitor):
    """Ask for the posting days, and give the page of the task."""
    path = visitor.post("/parcels/plan").headers["Location"]
    assert path.startswith("/tasks/")
    return path


def test_a_task_says_what_it_does_and_how_it_stands(winnie):
    page = winnie.get(asked(winnie)).text

    assert "Working out the posting days" in page
    assert "It waits for its turn" in page


def test_a_task_that_was_stopped_says_that_nothing_changed_and_leads_back(winnie):
    path = asked(winnie)

    answer = winnie.post(f"{path}/stop")
    page = winnie.get(path).text

    assert (answer.status_code, answer.headers["Location"]) == (303, path)
    assert "It was stopped; nothing was changed." in page
    assert "It waits for its turn" not in page
    assert re.search(r'href="/parcels"[^>]*>\s*Go back', page)


def test_a_task_that_is_not_there_is_not_found(winnie):
    path = asked(winnie)

    assert winnie.get(f"{path}000").status_code == 404
