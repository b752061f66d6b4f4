"""What the desk stores."""

from rubrail.desk.models.change import Change
from rubrail.desk.models.haul import Haul, Machine, Truck
from rubrail.desk.models.people import SignInTry, User
from rubrail.desk.models.stock import Photo, Unit

__all__ = ["Change", "Haul", "Machine", "Photo", "SignInTry", "Truck", "Unit", "User"]
