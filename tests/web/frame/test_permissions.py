"""Every route with every kind of person: who is let in, who is not, and what nobody sees."""

import pytest

from exchange.records import repositories
from exchange.records.repository import Repository
from exchange.web.frame.session import _OPEN
from tests.app_fixtures import Visitor, ring, site
from tests.web.walk import HIDDEN, furnish, steps

LEAVING = {"leaving.leave_now", "security.logout", "own_sign_in.everywhere"}
"""What ends the walk of whoever presses it."""


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("walk")) as made:
        yield made


@pytest.fixture(scope="module")
def circle(here):
    made = ring(here.house, "The Lowmoor Circle", ("Winnie", "Cuthbert", "Effie", "Odo"))
    furnish(made)
    return made


@pytest.fixture(scope="module")
def other(here):
    return ring(here.house, "The Overfell Ring", ("Ismay", "Jory"), "Tarn")


@pytest.fixture(scope="module")
def walk(here, circle, other):
    return steps(here.app, here, circle.circle_id)


def take(visitor, step):
    return visitor.get(step.path) if step.method == "GET" else visitor.post(step.path)


def read(answer):
    """Give what an answer says; of a file that is no text, what can be read of it."""
    return answer.get_data().decode(errors="replace")


def is_open(here, step):
    view = here.app.view_functions[step.endpoint]
    return step.endpoint.startswith("security.") or getattr(view, _OPEN, False)


def rows_of(here, circle_id):
    """Give every row of a circle but its deeds."""
    with here.house.books.reading() as tx:
        return {
            repository.noun: repository.all(tx, circle_id)
            for repository in vars(repositories).values()
            if isinstance(repository, Repository) and repository is not repositories.DEEDS
        }


def test_the_walk_knows_the_pages(walk):
    assert len(walk) > 40
    assert any(step.of_one_thing for step in walk)


def test_who_is_not_signed_in_reaches_no_page(here, circle, walk):
    stranger = Visitor(here)
    strayed = []
    for step in walk:
        if is_open(here, step):
            continue
        answer = take(stranger, step)
        if answer.status_code != 303 or not answer.headers["Location"].startswith("/sign-in"):
            strayed.append(f"{step}: {answer.status}")

    assert strayed == []


def test_what_is_open_to_anyone_tells_nothing_of_the_circle(here, circle, walk):
    stranger = Visitor(here)
    opened = [step for step in walk if is_open(here, step)]
    told = [
        f"{step}"
        for step in opened
        if any(word in take(stranger, step).text for word in ("Pellow", "Lowmoor", *HIDDEN))
    ]

    assert opened
    assert told == []


def test_a_member_of_another_circle_reaches_nothing_of_this_one(here, circle, other, walk):
    before = rows_of(here, circle.circle_id)
    strayed = []
    for name in ("Jory", "Ismay"):
        for step in walk:
            if step.endpoint in LEAVING or is_open(here, step):
                continue
            answer = take(Visitor(here, other[name]), step)
            reached = step.of_one_thing and answer.status_code not in (403, 404, 405)
            if reached or answer.status_code >= 500:
                strayed.append(f"{name}: {step}: {answer.status}")
            if any(word in read(answer) for word in ("Pellow", "Lowmoor", "Inverness", *HIDDEN)):
                strayed.append(f"{name}: {step} tells of the other circle")

    assert strayed == []
    assert rows_of(here, circle.circle_id) == before


def test_a_member_sees_nothing_hidden_of_another_household(here, circle, walk):
    strayed = []
    for step in walk:
        if step.endpoint in LEAVING:
            continue
        answer = take(Visitor(here, circle["Cuthbert"]), step)
        if answer.status_code >= 500:
            strayed.append(f"{step}: {answer.status}")
        if any(word in read(answer) for word in (*HIDDEN, "9 August", "2027-08-09")):
            strayed.append(f"{step} tells what is hidden")

    assert strayed == []


def test_a_member_changes_nothing_of_another_household(here, circle, walk):
    def effies():
        """Give what is Effie's and the circle's, except what is given from it to others."""
        kept = rows_of(here, circle.circle_id)
        home = circle["Effie"].household_id
        own = {
            noun: [row for row in rows if getattr(row, "household_id", None) == home]
            for noun, rows in kept.items()
        }
        parcels = [row for row in kept["parcel"] if row.receiver_household_id == home]
        return own, kept["variety"], kept["share out"], kept["way"], parcels

    before = effies()
    changed = []
    for step in walk:
        if step.endpoint in LEAVING or step.method == "GET":
            continue
        take(Visitor(here, circle["Cuthbert"]), step)
        if effies() != before:
            changed.append(str(step))
            before = effies()

    assert before[0]["spare"]
    assert before[4]
    assert changed == []


ORGANISERS_ONLY = (
    "act_for.start",
    "inviting.write",
    "inviting.look_over",
    "set_up.add",
    "set_up.keep_new",
    "set_up.show",
    "set_up.keep",
    "people.again",
    "people.show",
    "people.organiser",
    "people.helper",
    "people.household",
    "people.sign_in_link",
    "leaving.let_go",
    "leaving.let_go_page",
    "leaving.former",
    "hand_over.show",
    "hand_over.ask",
    "hand_over.hand",
    "leaving.erase_page",
    "leaving.erase_now",
    "write.write",
    "write.send",
    "write.one",
    "write.take_back",
    "letters.by_hand",
    "letters.printed",
    "letters.handed_over",
    "who_did_what.everybody",
    "lists.show",
    "lists.csv",
    "lists.xlsx",
    "lists.printed",
    "tasks.show",
    "tasks.stop",
)


def test_what_is_the_organisers_is_refused_to_a_member(here, circle, walk):
    asked = [step for step in walk if step.endpoint in ORGANISERS_ONLY]
    let_in = [
        f"{step}: {answer.status}"
        for step in asked
        if (answer := take(Visitor(here, circle["Cuthbert"]), step)).status_code != 403
    ]

    assert {step.endpoint for step in asked} == set(ORGANISERS_ONLY)
    assert let_in == []


OWN = (
    "garden.place",
    "garden.shelter",
    "garden.drop_place",
    "garden.drop_shelter",
    "own_terms.take_back",
    "weather.place",
    "weather.note",
    "weather.tonight",
    "weather.drop_note",
    "weather_learned.observed",
    "weather_learned.drop_observed",
    "weather_learned.daily_file",
    "weather_learned.look_over_file",
    "weather_learned.keep",
    "weather_learned.drop",
    "weather_learned.record",
    "weather_learned.learn",
    "weather_learned.undo",
)


def test_what_is_a_households_own_is_refused_to_another_member(here, circle, walk):
    asked = [step for step in walk if step.endpoint in OWN]
    let_in = [
        f"{step}: {answer.status}"
        for step in asked
        if (answer := take(Visitor(here, circle["Cuthbert"]), step)).status_code != 403
    ]

    assert {step.endpoint for step in asked} == set(OWN)
    assert let_in == []


def test_every_page_opens_for_the_organiser_or_for_whose_it_is(here, circle, walk):
    broken = []
    for step in walk:
        nothing_there = "999999" in step.path or "/x" in step.path
        if step.method != "GET" or is_open(here, step) or nothing_there:
            continue
        found = [
            take(Visitor(here, circle[name]), step).status_code for name in ("Winnie", "Effie")
        ]
        # 409: something else has to be done first; 422: the page wants its form filled in.
        if not {200, 303, 409, 422} & set(found) or max(found) >= 500:
            broken.append(f"{step}: {found}")

    assert broken == [], "\n".join(broken)
