from dataclasses import replace

import numpy as np
import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.posting.exposure import Air, hourly
from exchange.domain.posting.injury import curves, tolerance
from exchange.domain.posting.packing import packing
from exchange.domain.posting.risk import RiskInput, RiskQuery, risk_table
from tests.builders.posting import MONDAY
from tests.builders.risk import a_question, journeys
from tests.builders.scalar_risk import scalar_means


@pytest.fixture(scope="module")
def question():
    return replace(a_question(places=30, days=5, most_after=4), needed=(True,) * 5)


def test_the_table_gives_the_numbers_of_a_plain_loop_to_a_billionth(question):
    parcels = journeys(24, places=30)
    table = risk_table(parcels, question)
    hourly = question.air.hourly.tolist()
    frozen = 0
    for number, journey in enumerate(parcels):
        for day in (0, 2, 4):
            for after, means in scalar_means(journey, question, hourly, day).items():
                assert table.loss[number][:, day, after] == pytest.approx(means, abs=1e-9)
                frozen += bool(journey.latent_k and table.box_tenth[number, day, after] == 0)
    assert frozen > 5, "the sample must reach the latent heat of a damp wrap"


def test_a_damp_wrap_holds_the_core_at_freezing_point(question):
    damp = [one for one in journeys(80, places=30) if one.latent_k]
    dry = [replace(one, latent_k=0.0) for one in damp]
    wet_box = risk_table(damp, question).box_tenth
    dry_box = risk_table(dry, question).box_tenth
    assert np.nanmin(dry_box) < -2
    assert np.nanmin(wet_box) == 0


def test_warmer_packing_and_warmer_depots_never_lose_more_to_cold(question):
    base = journeys(40, places=30)
    plain = risk_table(base, question)
    warmer = risk_table([replace(one, depot_offset_c=4.0) for one in base], question)
    assert np.nanmean(warmer.box_middle) > np.nanmean(plain.box_middle)
    assert np.nanmin(warmer.box_tenth - plain.box_tenth) >= -1e-12


def test_the_order_of_parcels_changes_nothing(question):
    base = journeys(150, places=30)
    forward = risk_table(base, question, figures=False)
    backward = risk_table(base[::-1], question, figures=False)
    for one, other in zip(forward.loss, backward.loss[::-1], strict=True):
        assert np.array_equal(one, other)


def test_more_days_on_the_road_lose_more_unless_the_night_was_the_worst(question):
    calm = replace(
        question,
        air=replace(question.air, hourly=np.full_like(question.air.hourly, 12.0)),
        sheltered=np.full_like(question.sheltered, 12.0),
    )
    table = risk_table(journeys(8, places=30), calm, figures=False)
    for loss in table.loss:
        assert (np.diff(loss[:, :, 1:], axis=2) > 0).all()


MILD = {
    (Species.DAHLIA, Material.UNROOTED, Raised.IN_HEAT): (0.01, 0.80),
    (Species.DAHLIA, Material.ROOTED, Raised.IN_HEAT): (0.005, 0.85),
    (Species.DAHLIA, Material.ROOTED, Raised.COOL): (0.005, 0.80),
    (Species.DAHLIA, Material.DIVISION, Raised.COOL): (0.005, 0.30),
    (Species.PELARGONIUM, Material.ROOTED, Raised.COOL): (0.005, 0.55),
    (Species.FUCHSIA, Material.ROOTED, Raised.COOL): (0.005, 0.75),
    (Species.COLEUS, Material.ROOTED, Raised.COOL): (0.09, 0.85),
}
"""For a night of 4.5 degrees C at the most, and for one of -4 at the least, in a shoe box [chance of loss]."""


@pytest.mark.parametrize("stock", MILD)
def test_a_mild_night_in_a_shoe_box_does_not_read_like_a_frost(stock):
    def lost(low):
        lows = np.full((1, 8, 1), low)
        air = Air(
            first=MONDAY,
            row={1: 0},
            lows=lows,
            hourly=hourly(lows, lows + 8.0),
            known=np.ones((1, 8), dtype=np.bool_),
            middle=lows[:, :, 0],
            spread=np.zeros((1, 8)),
            climate=np.zeros((1, 8), dtype=np.bool_),
        )
        asked = RiskQuery(air, np.full((1, 8, 1), 14.0), 1, (False, True), 15.0)
        kind = replace(curves(tolerance(*stock)), dark=(-99.0, 0.0))
        box = packing("shoe_box").tau_h
        journey = RiskInput(0, 0, box, 0.0, 17, 0.0, (kind,), 0)
        return float(risk_table([journey], asked).loss[0][0, 0, 1])

    mild, frost = MILD[stock]
    assert lost(4.5) < mild
    assert lost(-4.0) > frost
