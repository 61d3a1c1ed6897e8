"""The season report."""

from flask import Blueprint, abort, render_template

from exchange.actions.circle.page_season import SeasonPage, season_page
from exchange.web.circle.chart_season import SeasonView, SeasonWeek, draw_season
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.session import actor, now
from exchange.words.circle import season_report as words
from exchange.words.kernel import dates
from exchange.words.posting import postage as postage_words

blueprint = Blueprint("season", __name__, url_prefix="/season")


@blueprint.get("")
def show() -> str:
    return _shown(season_page(actor(), None, now()))


@blueprint.get("/<int:year>")
def of_year(year: int) -> str:
    if not 1900 <= year <= 9000:
        abort(404)
    return _shown(season_page(actor(), year, now()))


def _shown(page: SeasonPage) -> str:
    figures = _figures(page)
    counted = _counted(page)
    return render_template(
        "season/show.html",
        page=page,
        words=words,
        figures=figures,
        counted=counted,
        kept=[(one.variety, *words.kept(one.places, one.chance)) for one in page.kept],
        weeks=_weeks(page) if page.total.heard else None,
        text=_as_text(page, figures, counted),
    )


def _figures(page: SeasonPage) -> list[tuple[str, str]]:
    found = [("Parcels", words.parcels(page.total, page.by_hand))]
    if page.total.heard:
        found += [
            ("Alive on arrival", words.share(page.total)),
            ("Since then", words.survival(page.living, page.total.alive)),
        ]
    if page.postage.told:
        found.append(("Postage", postage_words.in_report(page.postage, page.country)))
    wishes = page.wishes
    return [
        *found,
        ("Claims", words.claims(wishes.made, wishes.met, wishes.part)),
        ("Members", words.people(page.members, page.households, page.joined)),
    ]


def _counted(page: SeasonPage) -> list[tuple[str, list[tuple[str, str]]]]:
    parts = (
        ("By way", page.by_way),
        ("By weekday", page.by_weekday),
        ("By packing advised", page.by_packing),
    )
    return [
        (name, [(label, words.share(one)) for label, one in found])
        for name, found in parts
        if found
    ]


def _weeks(page: SeasonPage) -> SeasonView:
    return draw_season(
        [SeasonWeek(words.week(monday), one.alive, one.lost) for monday, one in page.weeks],
        Words(
            "Plants by the week they went",
            words.of_weeks(page.weeks),
            "Plants by the week they went",
            ("Week of", "Came alive", "Did not", "Heard of"),
            tuple(
                (words.week(monday), one.alive, one.lost, f"{one.heard} of {one.parcels}")
                for monday, one in page.weeks
            ),
        ),
    )


def _as_text(
    page: SeasonPage,
    figures: list[tuple[str, str]],
    counted: list[tuple[str, list[tuple[str, str]]]],
) -> str:
    wishes = [
        words.unmet(variety.species, variety.name, count) for variety, count in page.wishes.named
    ]
    return words.as_text(
        f"{words.title(page.season)}: {words.lead(page.total)}",
        [
            ("In figures", [f"{name}: {said}" for name, said in figures]),
            *((name, [f"{label}: {said}" for label, said in rows]) for name, rows in counted),
            ("Wished for in vain", wishes),
            ("To come", [f"{name} closes {dates.day_and_year(day)}" for name, day in page.to_come]),
        ],
    )
