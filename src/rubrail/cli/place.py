"""``rubrail place``: where the cargo should stand."""

from __future__ import annotations

from rubrail.cli import options


def command(
    haul: options.Haul,
    trailer: options.Trailer,
    yard: options.Yard = None,
    metric: options.Metric = False,
    as_json: options.AsJson = False,
) -> str:
    """Place the cargo on one trailer: order, facing, position, and how far it may slide."""
    from rubrail.answers.place import place
    from rubrail.answers.weigh import weigh
    from rubrail.cli import given
    from rubrail.cli.told import told
    from rubrail.sheets.sentences import weighing_sentence
    from rubrail.sheets.sentences_yard import place_sentence

    found_yard = given.yard_of(yard, haul, trailer)
    the_haul, the_trailer = given.haul_of(haul, found_yard), given.trailer_of(trailer, found_yard)
    placed = place(haul=the_haul, trailer=the_trailer)
    weighing = weigh(haul=the_haul, trailer=the_trailer, placement=placed.placement, remedies=False)
    sentence = place_sentence(placed, metric=metric)
    verdict = weighing_sentence(weighing, tried=False, metric=metric)
    if as_json:
        record = {"verdict": weighing.verdict, "verdict_sentence": verdict, "place": placed}
        print(told(answer="place", sentence=sentence, record=record))
    else:
        from rubrail.cli import show as part
        from rubrail.cli.screen import Screen
        from rubrail.sheets.sentences_amounts import listed

        screen = Screen(metric=metric)
        screen.verdict(weighing.verdict, sentence)
        screen.text()
        screen.text(verdict)
        part.cargo(screen, placed.pieces)
        if placed.possible and placed.held_by:
            screen.text()
            screen.text(f"Held there by: {listed([title for _, title in placed.held_by])}.", style="dim")
        part.safety(screen)
    return weighing.verdict
