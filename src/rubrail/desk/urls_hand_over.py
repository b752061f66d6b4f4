"""Addresses of hand-overs, and of what a finished list writes into a file."""

from django.urls import path

from rubrail.desk.views import filing, hand_over

HAND_OVER_PATHS = (
    path("hand-overs/", hand_over.hand_overs, name="hand-overs"),
    path("hand-overs/begin/", hand_over.hand_over_begin, name="hand-over-begin"),
    path("hand-over/<int:pk>/", hand_over.hand_over, name="hand-over"),
    path("hand-over/<int:pk>/weighed/", hand_over.hand_over_weighed, name="hand-over-weighed"),
    path("hand-over/<int:pk>/finish/", hand_over.hand_over_finish, name="hand-over-finish"),
    path("hand-over/<int:pk>/sheet.pdf", hand_over.hand_over_paper, name="hand-over-paper"),
    path("hand-over/blank/<str:stock_number>.pdf", hand_over.hand_over_blank, name="hand-over-blank"),
    path("check/<int:pk>/file/<slug:of>/", filing.check_file, name="check-file"),
)
