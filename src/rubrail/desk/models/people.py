"""People and their tries at signing in."""

from __future__ import annotations

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.core.validators import RegexValidator
from django.db import models
from django.db.models.functions import Lower

from rubrail.desk import permissions

SIGN_IN_NAME = RegexValidator(
    r"^[A-Za-z0-9][A-Za-z0-9._-]*\Z",
    "Use letters, digits, dots, hyphens and underscores, beginning with a letter or digit.",
)


class Look(models.TextChoices):
    """Which palette a person sees."""

    SYSTEM = "system", "as the device is set"
    LIGHT = "light", "light"
    DARK = "dark", "dark"


class Measures(models.TextChoices):
    """Which units a person reads first."""

    US = "us", "pounds, feet and inches"
    METRIC = "metric", "kilograms and meters"


class UserManager(BaseUserManager):
    """Makes people; sign-in names are compared without regard to case."""

    use_in_migrations = False

    def get_by_natural_key(self, username: str | None) -> User:
        """The person of that sign-in name."""
        return self.get(username__iexact=username)

    def create_user(self, *, username: str, name: str, role: str, password: str | None) -> User:
        """Store a new person with a hashed password."""
        user = self.model(username=username, name=name, role=role)
        user.set_password(password)
        user.save(using=self._db)
        return user


class User(AbstractBaseUser):
    """A person with an account. Nobody is deleted, so that the trail keeps its names; accounts are closed."""

    username = models.CharField("sign-in name", max_length=40, unique=True, validators=[SIGN_IN_NAME])
    name = models.CharField("name", max_length=80)
    role = models.CharField("role", max_length=10, choices=[(r, w[0]) for r, w in permissions.ROLES.items()])
    is_active = models.BooleanField("account open", default=True)
    must_change_password = models.BooleanField(default=False)
    look = models.CharField("look", max_length=10, choices=Look, default=Look.SYSTEM)
    measures = models.CharField("measures", max_length=10, choices=Measures, default=Measures.US)
    created = models.DateTimeField(auto_now_add=True)
    version = models.PositiveIntegerField(default=1)

    USERNAME_FIELD = "username"
    REQUIRED_FIELDS = ("name", "role")

    objects = UserManager()

    class Meta:
        """Sign-in names are one person's, however they are capitalized."""

        ordering = ("name", "pk")
        constraints = (
            models.UniqueConstraint(
                Lower("username"),
                name="one_person_per_sign_in_name",
                violation_error_message="Somebody has this sign-in name already; choose another.",
            ),
            models.CheckConstraint(condition=models.Q(role__in=list(permissions.ROLES)), name="role_is_declared"),
        )

    def __str__(self) -> str:
        """The person's name."""
        return self.name

    @property
    def role_word(self) -> str:
        """The word people read for the role."""
        return permissions.role_word(self.role)

    def may(self, name: str) -> bool:
        """Whether this person may do what the permission declares; an undeclared name raises."""
        return permissions.role_may(self.role, name) and self.is_active


class SignInTry(models.Model):
    """One try at signing in, kept for as long as it counts against the next."""

    name_key = models.CharField(max_length=64, help_text="keyed digest of the name tried: people type passwords there")
    address = models.CharField(max_length=64)
    at = models.DateTimeField()

    class Meta:
        """Counted by name and by address since a moment."""

        indexes = (
            models.Index(fields=("name_key", "at"), name="try_by_name"),
            models.Index(fields=("address", "at"), name="try_by_address"),
        )

    def __str__(self) -> str:
        """Where it came from, and when."""
        return f"{self.address} at {self.at:%Y-%m-%d %H:%M}"
