"""Addresses of scale tickets."""

from django.urls import path

from rubrail.desk.views import ticket, ticket_apply

TICKET_PATHS = [
    path("tickets/", ticket.tickets, name="tickets"),
    path("tickets/new/", ticket.ticket_new, name="ticket-new"),
    path("ticket/<int:pk>/", ticket.ticket, name="ticket"),
    path("ticket/<int:pk>/edit/", ticket.ticket_edit, name="ticket-edit"),
    path("ticket/<int:pk>/aside/", ticket.ticket_aside, name="ticket-aside"),
    path("ticket/<int:pk>/photos/", ticket.ticket_photos, name="ticket-photos"),
    path("ticket/<int:pk>/take-over/<slug:of>/", ticket_apply.ticket_apply, name="ticket-apply"),
]
