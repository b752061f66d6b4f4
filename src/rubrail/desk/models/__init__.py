"""What the desk stores."""

from rubrail.desk.models.books import Book
from rubrail.desk.models.change import Change
from rubrail.desk.models.checks import CheckEntry, Checklist
from rubrail.desk.models.follow import CalendarLink, FollowUp, PutOff
from rubrail.desk.models.haul import Board, Haul, Machine, Place, Truck
from rubrail.desk.models.incoming import HeadingsRead, Incoming
from rubrail.desk.models.listings import Listing
from rubrail.desk.models.once import Sent
from rubrail.desk.models.people import SignInTry, User
from rubrail.desk.models.receipt import DamageMark, Receipt
from rubrail.desk.models.sales import Order, Quote, QuoteVersion
from rubrail.desk.models.stock import Photo, Unit
from rubrail.desk.models.ticket import Ticket

__all__ = [
    "Board",
    "Book",
    "CalendarLink",
    "Change",
    "CheckEntry",
    "Checklist",
    "DamageMark",
    "FollowUp",
    "Haul",
    "HeadingsRead",
    "Incoming",
    "Listing",
    "Machine",
    "Order",
    "Photo",
    "Place",
    "PutOff",
    "Quote",
    "QuoteVersion",
    "Receipt",
    "Sent",
    "SignInTry",
    "Ticket",
    "Truck",
    "Unit",
    "User",
]
