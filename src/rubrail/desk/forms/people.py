"""Forms of people: first-run set-up, signing in, accounts, passwords."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import password_validators_help_texts, validate_password
from django.core.exceptions import ValidationError

from rubrail.desk.forms import seen
from rubrail.desk.models import User
from rubrail.desk.models.people import SIGN_IN_NAME, Look, Measures
from rubrail.desk.permissions import ROLES


def _password(label: str, *, new: bool, help_text: str = "", focus: bool = False) -> forms.CharField:
    attrs = {"autocomplete": "new-password" if new else "current-password"}
    if focus:
        attrs["autofocus"] = True
    return forms.CharField(
        label=label, strip=False, max_length=200, widget=forms.PasswordInput(attrs=attrs), help_text=help_text
    )


class TwoPasswords(forms.Form):
    """A new password, twice."""

    def password_owner(self) -> User:
        """The person the password is compared with: it must not be like their names."""
        raise NotImplementedError

    def clean(self) -> dict[str, Any]:
        """Both the same, and one that is hard enough to guess."""
        cleaned = super().clean()
        first, again = cleaned.get("password"), cleaned.get("again")
        if first and again and first != again:
            self.add_error("again", "The two passwords differ; type the same one twice.")
        elif first:
            try:
                validate_password(first, self.password_owner())
            except ValidationError as faults:
                self.add_error("password", faults)
        return cleaned


class SignInForm(forms.Form):
    """Name and password."""

    username = forms.CharField(
        label="Sign-in name",
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}),
    )
    password = _password("Password", new=False)


class FirstRunForm(TwoPasswords):
    """The first person: the owner."""

    name = forms.CharField(
        label="Your name",
        max_length=80,
        help_text="As the others will read it beside your changes.",
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    username = forms.CharField(
        label="Sign-in name",
        max_length=40,
        validators=[SIGN_IN_NAME],
        help_text="Short and without spaces.",
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}),
    )
    password = _password("Password", new=True, help_text="At least 10 characters. A few plain words in a row do well.")
    again = _password("The same password again", new=True)

    def password_owner(self) -> User:
        """The owner to be."""
        return User(name=self.cleaned_data.get("name", ""), username=self.cleaned_data.get("username", ""))


class PasswordForm(TwoPasswords):
    """One's own new password; the old one proves that it is oneself."""

    old = _password("Password until now", new=False)
    password = _password("New password", new=True, help_text=" ".join(password_validators_help_texts()[1:2]))
    again = _password("The same password again", new=True)

    def __init__(self, *args: Any, person: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.person = person

    def password_owner(self) -> User:
        """Whose it is."""
        return self.person


class PersonForm(forms.ModelForm):
    """What the owner says of a person."""

    role = forms.ChoiceField(
        label="Role",
        choices=[(role, words[0].capitalize()) for role, words in ROLES.items()],
        widget=forms.RadioSelect,
        initial="sales",
    )

    class Meta:
        """Name, sign-in name, role."""

        model = User
        fields = ("name", "username", "role")
        labels = {"name": "Name", "username": "Sign-in name"}
        help_texts = {"username": "Short and without spaces."}
        widgets = {
            "username": forms.TextInput(
                attrs={"autocomplete": "off", "autocapitalize": "none", "spellcheck": "false"}
            ),
            "name": forms.TextInput(attrs={"autocomplete": "off"}),
        }

    def texts(self) -> dict[str, str]:
        """The person's fields as the form writes them."""
        return texts_of(self.instance)

    def seen(self) -> str:
        """The hidden field that says what this form showed."""
        return seen.pack(version=self.instance.version, values=self.texts())


def texts_of(person: User) -> dict[str, str]:
    """A person's fields as the form writes them."""
    return {name: str(getattr(person, name)) for name in PersonForm.Meta.fields}


class AccountForm(forms.ModelForm):
    """How a person likes their pages."""

    class Meta:
        """Name, look and measures."""

        model = User
        fields = ("name", "look", "measures")
        labels = {"name": "Your name", "look": "Look", "measures": "Measures"}
        widgets = {"look": forms.RadioSelect, "measures": forms.RadioSelect}

    look = forms.ChoiceField(
        label="Look", choices=[(v, label.capitalize()) for v, label in Look.choices], widget=forms.RadioSelect
    )
    measures = forms.ChoiceField(
        label="Measures", choices=[(v, label.capitalize()) for v, label in Measures.choices], widget=forms.RadioSelect
    )
