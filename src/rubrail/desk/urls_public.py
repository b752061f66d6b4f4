"""Addresses of the public pages, and of what the yard does with them: write them, print labels that lead to them."""

from django.urls import path

from rubrail.desk.views import labels, public, public_pages

PUBLIC_PATHS = (
    path("public/", public.public, name="public"),
    path("public/<path:path>", public.public, name="public-file"),
    path("public-pages/", public_pages.public_pages, name="public-pages"),
    path("public-pages/write/", public_pages.public_pages_write, name="public-pages-write"),
    path("public-pages/pages.zip", public_pages.public_pages_zip, name="public-pages-zip"),
    path("labels/", labels.labels, name="labels"),
    path("labels.pdf", labels.labels_paper, name="labels-paper"),
)
