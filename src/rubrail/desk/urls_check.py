"""Addresses of checklists and of what a phone's outbox asks."""

from django.urls import path

from rubrail.desk.views import check

CHECK_PATHS = (
    path("checks/", check.checks, name="checks"),
    path("checks/begin/", check.check_begin, name="check-begin"),
    path("check/<int:pk>/", check.check, name="check"),
    path("check/<int:pk>/line/", check.check_line, name="check-line"),
    path("check/<int:pk>/finish/", check.check_finish, name="check-finish"),
    path("check/<int:pk>/step/", check.check_step, name="check-step"),
    path("check/<int:pk>/sheet.pdf", check.check_paper, name="check-paper"),
    path("check/blank/<str:stock_number>/<slug:sort>.pdf", check.check_blank, name="check-blank"),
)
