"""Every address of the desk."""

from django.urls import URLPattern, path, register_converter

from rubrail.desk.urls_check import CHECK_PATHS
from rubrail.desk.urls_hand_over import HAND_OVER_PATHS
from rubrail.desk.urls_public import PUBLIC_PATHS
from rubrail.desk.urls_receive import RECEIVE_PATHS
from rubrail.desk.urls_ticket import TICKET_PATHS
from rubrail.desk.urls_today import TODAY_PATHS
from rubrail.desk.views import (
    board,
    build,
    buyer,
    changes,
    climb,
    compare,
    design,
    errors,
    exporting,
    haul,
    haul_edit,
    haul_parts,
    importing,
    kept,
    ledger,
    listings,
    orders,
    paper,
    people,
    photos,
    quote,
    rig,
    sending,
    sign_in,
    standing,
    tie_down,
    turn,
    unit,
    walk,
    wording,
    yard,
)


class StockNumber:
    """A stock number in an address."""

    regex = r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}"

    def to_python(self, value: str) -> str:
        """As it is."""
        return value

    def to_url(self, value: str) -> str:
        """As it is."""
        return value


register_converter(StockNumber, "stock")



def kept_paths(sort: str, many: str) -> list[URLPattern]:
    """Addresses of what is kept of one sort."""
    of = {"sort": sort}
    return [
        path(f"{many}/", kept.things, of, name=many),
        path(f"{many}/new/", kept.thing_new, of, name=f"{sort}-new"),
        path(f"{sort}/<int:pk>/", kept.thing, of, name=sort),
        path(f"{sort}/<int:pk>/edit/", kept.thing_edit, of, name=f"{sort}-edit"),
        path(f"{sort}/<int:pk>/aside/", kept.thing_aside, of, name=f"{sort}-aside"),
    ]


urlpatterns = [
    path("", yard.start, name="start"),
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-in/demo/", sign_in.enter_demo, name="enter-demo"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("first-run/", sign_in.first_run, name="first-run"),
    path("yard/", yard.yard, name="yard"),
    path("yard/new/", unit.unit_new, name="unit-new"),
    path("yard/export/", exporting.yard_export, name="yard-export"),
    path("yard/import/", importing.yard_import, name="yard-import"),
    path("yard/import/<uuid:pk>/columns/", importing.yard_import_columns, name="yard-import-columns"),
    path("yard/import/<uuid:pk>/", importing.yard_import_preview, name="yard-import-preview"),
    path("yard/import/<uuid:pk>/drop/", importing.yard_import_drop, name="yard-import-drop"),
    path("unit/<stock:stock_number>/", unit.unit, name="unit"),
    path("unit/<stock:stock_number>/edit/", unit.unit_edit, name="unit-edit"),
    path("unit/<stock:stock_number>/step/<slug:step>/", standing.unit_step, name="unit-step"),
    path("unit/<stock:stock_number>/window.pdf", paper.unit_window, name="unit-window"),
    path("unit/<stock:stock_number>/spec.pdf", paper.unit_spec, name="unit-spec"),
    path("unit/<stock:stock_number>/tax.pdf", paper.unit_tax, name="unit-tax"),
    path("unit/<stock:stock_number>/walk/", walk.walk, name="walk"),
    path("unit/<stock:stock_number>/walk/cue/", walk.walk_cue, name="walk-cue"),
    path("unit/<stock:stock_number>/walk.vtt", walk.walk_captions, name="walk-captions"),
    path("unit/<stock:stock_number>/walk.pdf", walk.walk_paper, name="walk-paper"),
    path("unit/<stock:stock_number>/photos/", photos.photos_add, name="photos-add"),
    path("unit/<stock:stock_number>/listing/", listings.listing, name="listing"),
    path("unit/<stock:stock_number>/listing/change/", listings.listing_change, name="listing-change"),
    path("listings/", listings.listings, name="listings"),
    path("listings/wording/", wording.listing_wording, name="listing-wording"),
    path("listings/wording/look/", wording.listing_wording_look, name="listing-wording-look"),
    path("photo/<int:pk>/<str:size>.jpg", photos.photo, name="photo"),
    path("photo/<int:pk>/", photos.photo_change, name="photo-change"),
    path("hauls/", haul.hauls, name="hauls"),
    path("hauls/new/", haul_edit.haul_new, name="haul-new"),
    path("haul/<int:pk>/", haul.haul, name="haul"),
    path("haul/<int:pk>/edit/", haul_edit.haul_edit, name="haul-edit"),
    path("haul/<int:pk>/on/<stock:stock_number>/", rig.rig, name="rig"),
    path("haul/<int:pk>/on/<stock:stock_number>/check/", rig.rig_check, name="rig-check"),
    path("haul/<int:pk>/on/<stock:stock_number>/place/", rig.rig_place, name="rig-place"),
    path("haul/<int:pk>/on/<stock:stock_number>/why/<slug:check>/", rig.rig_why, name="rig-why"),
    path("haul/<int:pk>/on/<stock:stock_number>/remedies/", rig.rig_remedies, name="rig-remedies"),
    path("haul/<int:pk>/on/<stock:stock_number>/climb/", climb.climb, name="climb"),
    path("haul/<int:pk>/on/<stock:stock_number>/tie-down/", tie_down.rig_tie_down, name="tie-down"),
    path("haul/<int:pk>/on/<stock:stock_number>/turn/", turn.rig_turn, name="rig-turn"),
    path("haul/<int:pk>/on/<stock:stock_number>/plan.pdf", paper.rig_plan, name="rig-plan"),
    path("haul/<int:pk>/on/<stock:stock_number>/card.pdf", paper.rig_card, name="rig-card"),
    path("haul/<int:pk>/on/<stock:stock_number>/thresholds.pdf", paper.rig_thresholds, name="rig-thresholds"),
    path("haul/<int:pk>/on/<stock:stock_number>/tax.pdf", paper.rig_tax, name="rig-tax"),
    path("haul/<int:pk>/compare.pdf", paper.haul_compare, name="haul-compare"),
    path("haul/<int:pk>/board/", board.board, name="board"),
    path("haul/<int:pk>/compare/", compare.compare, name="compare"),
    path("haul/<int:pk>/aside/", haul_parts.haul_aside, name="haul-aside"),
    path("haul/<int:pk>/keep/", haul_parts.haul_keep, name="haul-keep"),
    path("haul/<int:pk>/truck/", haul_parts.haul_truck, name="haul-truck"),
    path("haul/<int:pk>/piece/<int:number>/", haul_parts.haul_piece, name="haul-piece"),
    *kept_paths("truck", "trucks"),
    *kept_paths("machine", "machines"),
    path("quotes/", quote.quotes, name="quotes"),
    path("quotes/new/", quote.quote_new, name="quote-new"),
    path("quote/<slug:number>/", quote.quote, name="quote"),
    path("quote/<slug:number>/step/", quote.quote_step, name="quote-step"),
    path("quote/<slug:number>/version-<int:version>.pdf", quote.quote_paper, name="quote-paper"),
    path("build/", build.builds, name="builds"),
    path("build/<stock:ident>/<stock:model>/", build.build, name="build"),
    path("build/<stock:ident>/<stock:model>/cheapest/", build.build_cheapest, name="build-cheapest"),
    path("build/<stock:ident>/<stock:model>/order/", orders.build_order, name="build-order"),
    *RECEIVE_PATHS,
    *TICKET_PATHS,
    path("orders/", orders.orders, name="orders"),
    path("order/<slug:number>/", orders.order, name="order"),
    path("order/<slug:number>/step/", orders.order_step, name="order-step"),
    path("order/<slug:number>/sheet.pdf", orders.order_paper, name="order-paper"),
    path("order/<slug:number>/sheet.csv", orders.order_csv, name="order-csv"),
    path("books/<slug:book>.csv", ledger.books_csv, name="books-csv"),
    path("books/<slug:book>.json", ledger.books_json, name="books-json"),
    path("q/<str:secret>/", buyer.buyer, name="buyer"),
    path("q/<str:secret>/paper.pdf", buyer.buyer_paper, name="buyer-paper"),
    *PUBLIC_PATHS,
    *TODAY_PATHS,
    *CHECK_PATHS,
    *HAND_OVER_PATHS,
    path("changes/", changes.changes, name="changes"),
    path("people/", people.people, name="people"),
    path("people/new/", people.person_new, name="person-new"),
    path("people/<int:pk>/", people.person, name="person"),
    path("people/<int:pk>/open/", people.person_open, name="person-open"),
    path("people/<int:pk>/password/", people.person_password, name="person-password"),
    path("account/", people.account, name="account"),
    path("account/password/", people.password, name="password"),
    path("sending/", sending.sending, name="sending"),
    path("design/", design.design, name="design"),
]

handler400 = errors.bad_request
handler403 = errors.refused
handler404 = errors.not_found
handler500 = errors.failed
