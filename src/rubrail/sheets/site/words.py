"""Pages of words: what the numbers mean, and what is told where a page is not there, or not there any more."""

from __future__ import annotations

from rubrail.sheets.site.frame import PageHead, page
from rubrail.sheets.site.markup import el
from rubrail.sheets.site.shown import SiteYard

NUMBERS = (
    (
        "Label GVWR",
        "The most the loaded trailer may weigh, by its maker's certification label. It counts everything: the trailer"
        " itself, the cargo, chains and tools. The label governs, whatever an advertisement says.",
    ),
    (
        "Axle rating (GAWR)",
        "The most each axle may carry, on the same label. The tires and wheels on it must carry as much.",
    ),
    ("Empty", "What the trailer weighs with nothing on it. A word beside it says whether it was weighed."),
    (
        "Carries, at its best place",
        "What is left for cargo when every rating of the trailer is kept: label, axles, tires, wheels, coupler. It"
        " holds where the load balances best along the deck, and less holds elsewhere: the drawing on each page shows"
        " how much. Label GVWR less empty weight can be more than that, and a number in a trailer's name is no rating"
        " at all.",
    ),
    (
        "Your truck",
        "A trailer can carry a load that your truck must not pull or hold up. The hitch, the rear axle, the tires and"
        " the whole rig have ratings of their own. Bring the truck's door label and the machine's weight, and the yard"
        " works it out with you.",
    ),
    ("Not known", "Nobody at the yard has measured or read it. It is not a small number and not a pass: ask."),
    (
        "Price",
        "Before tax, for the trailer as described, at the yard. Where a price is older its day stands beside it; where"
        " it is too old it is not shown.",
    ),
)
LOCAL = (
    "Figures are estimates until the loaded rig is weighed on a scale. License, registration, permits and load limits"
    " differ by state: ask the agency, not an advertisement."
)


def numbers_html(*, yard: SiteYard) -> bytes:
    """What the numbers mean."""
    head = PageHead(
        path="numbers.html",
        title="About the numbers",
        says="What GVWR, axle rating, empty weight and what a trailer carries mean, and which of them governs.",
    )
    parts = [el("section", el("h2", name), el("p", says)) for name, says in NUMBERS]
    return page(
        head, el("h1", "About the numbers"), el("div", *parts, el("p", LOCAL), class_="text numbers"), yard=yard
    )


def missing_html(*, yard: SiteYard, path: str = "404.html", gone: str = "", photo: bool = False) -> bytes:
    """What is told where there is no page, or where the unit of a page, or a photo, is gone.

    Parameters
    ----------
    path : str
        Where it is told, for the links to lead back.
    gone : str
        Stock number of a unit that is no longer for sale.
    photo : bool
        Whether it was a photo.
    """
    title, says = "There is no such page", "The address may be mistyped, or the trailer is no longer shown."
    if photo:
        title = "This photo is not shown any more"
        says = "The yard took it off its page. All trailers are on the list."
    elif gone:
        title, says = f"{gone} is no longer for sale", "It was sold or taken back. Other trailers are on the list."
    head = PageHead(path=path, title=title, says=says, hidden=True, anywhere=path == "404.html")
    up = "../" * path.count("/")
    href = yard.address if path == "404.html" else f"{up}index.html"
    return page(head, el("h1", title), el("p", says, class_="lead"),
                el("p", el("a", "All trailers", href=href), class_="lead"), yard=yard)  # fmt: skip
