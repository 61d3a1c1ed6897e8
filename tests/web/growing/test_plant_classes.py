"""The page of groups and sizes."""

from exchange.records import PLANT_CLASSES
from tests.builders.offers import rows


def test_the_usual_ones_are_one_press_and_each_row_can_be_changed(circle, winnie):
    assert "Take those of dahlias" in winnie.get("/varieties/classes").text

    winnie.post("/varieties/classes/usual", {"kind": "dahlia"})
    page = winnie.get("/varieties/classes").text
    first = rows(circle, PLANT_CLASSES)[0]
    winnie.post(f"/varieties/classes/{first.id}", {"label": "Single-flowered", "society": "ours"})

    assert "Group: 1 Single" in page
    assert "Size: Giant (over 250 mm)" in page
    assert rows(circle, PLANT_CLASSES)[0].label == "Single-flowered"


def test_one_is_added_and_removed(circle, winnie):
    sent = {"kind": "fuchsia", "sort": "group", "label": "Triphylla", "society": ""}

    winnie.post("/varieties/classes", sent)
    added = rows(circle, PLANT_CLASSES)[0]
    again = winnie.post("/varieties/classes", sent)
    winnie.post(f"/varieties/classes/{added.id}/remove")

    assert added.label == "Triphylla"
    assert again.status_code == 422
    assert rows(circle, PLANT_CLASSES) == ()
