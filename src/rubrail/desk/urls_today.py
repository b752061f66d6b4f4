"""Addresses of the first page, of follow-ups, and of their calendar."""

from django.urls import path

from rubrail.desk.views import calendar, follow, today

TODAY_PATHS = (
    path("today/", today.today, name="today"),
    path("today/unknowns/", today.today_unknowns, name="today-unknowns"),
    path("today/put-off/", today.today_put_off, name="today-put-off"),
    path("follow-ups/", follow.follow_ups, name="follow-ups"),
    path("follow-ups/sold/", follow.follow_ups_sold, name="follow-ups-sold"),
    path("follow-ups/new/", follow.follow_up_new, name="follow-up-new"),
    path("follow-up/<int:pk>/", follow.follow_up, name="follow-up"),
    path("follow-up/<int:pk>/step/", follow.follow_up_step, name="follow-up-step"),
    path("account/calendar/", calendar.calendar_link, name="calendar-link"),
    path("calendar/<str:secret>.ics", calendar.calendar, name="calendar"),
)
