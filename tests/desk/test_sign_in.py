"""First-run set-up, signing in and out, the limit on wrong tries, passwords."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib.auth.hashers import identify_hasher
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from desk.conftest import PASSWORD
from rubrail.desk import tries
from rubrail.desk.models import Change, SignInTry, User

OWNER_FORM = {"name": "Ruth Calder", "username": "ruth", "password": PASSWORD, "again": PASSWORD}


def wrong(client: Client, name: str = "sales", address: str = "127.0.0.1"):
    return client.post(reverse("sign-in"), {"username": name, "password": "wrong"}, REMOTE_ADDR=address)


@pytest.mark.django_db
def test_first_run_makes_the_owner_and_signs_in(client: Client):
    assert client.get("/", follow=True).redirect_chain[-1][0] == reverse("first-run")
    answer = client.post(reverse("first-run"), OWNER_FORM)
    assert answer.headers["Location"] == reverse("yard")
    owner = User.objects.get()
    assert (owner.role, owner.name, owner.is_active) == ("owner", "Ruth Calder", True)
    assert client.get(reverse("yard")).status_code == 200
    assert Change.objects.get().sentence == "Ruth Calder set up this desk and became its owner."


def test_first_run_is_once(people, client: Client):
    before = User.objects.count()
    for answer in (client.get(reverse("first-run")), client.post(reverse("first-run"), OWNER_FORM)):
        assert answer.headers["Location"] == reverse("sign-in")
    assert User.objects.count() == before


@pytest.mark.django_db
def test_first_run_only_at_the_machine_itself(client: Client):
    answer = client.post(reverse("first-run"), OWNER_FORM, REMOTE_ADDR="192.0.2.7")
    assert answer.status_code == 403
    assert "made at the machine it runs on" in answer.content.decode()
    assert not User.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"again": "another one here"}, "again", "The two passwords differ; type the same one twice."),
        ({"password": "short", "again": "short"}, "password", "too short"),
        ({"password": "ruth calder!", "again": "ruth calder!"}, "password", "too similar to the name"),
        ({"password": "password1234", "again": "password1234"}, "password", "too common"),
        ({"username": "two words"}, "username", "beginning with a letter or digit"),
        ({"name": ""}, "name", "required"),
    ],
)
def test_first_run_says_each_fault_at_its_field(client: Client, change: dict, field: str, says: str):
    answer = client.post(reverse("first-run"), {**OWNER_FORM, **change})
    assert answer.status_code == 200
    assert says in " ".join(answer.context["form"].errors[field])
    assert not User.objects.exists()


def test_sign_in_and_out(people, client: Client):
    answer = client.post(reverse("sign-in"), {"username": "SALES", "password": PASSWORD})
    assert answer.headers["Location"] == reverse("today")
    assert client.get(reverse("yard")).status_code == 200
    client.post(reverse("sign-out"))
    assert client.get(reverse("yard")).status_code == 302


def test_wrong_name_and_wrong_password_look_the_same(people, client: Client):
    texts = {wrong(client, name).context["form"].non_field_errors()[0] for name in ("sales", "nobody-here")}
    assert len(texts) == 1


def test_five_wrong_tries_make_one_wait_even_with_the_right_password(people, client: Client):
    for _ in range(5):
        assert wrong(client).status_code == 200
    answer = client.post(reverse("sign-in"), {"username": "sales", "password": PASSWORD})
    assert answer.status_code == 429
    assert answer.headers["Retry-After"] == "900"
    assert "Too many wrong tries. Wait 15 minutes." in answer.content.decode()
    assert "_auth_user_id" not in client.session


def test_waiting_helps(people, client: Client):
    for _ in range(5):
        wrong(client)
    SignInTry.objects.update(at=timezone.now() - tries.WINDOW - timedelta(seconds=1))
    answer = client.post(reverse("sign-in"), {"username": "sales", "password": PASSWORD})
    assert answer.status_code == 302
    assert not SignInTry.objects.exists(), "what no longer counts is not kept"


def test_others_and_other_places_are_not_held_up(people, client: Client):
    for _ in range(5):
        wrong(client)
    good = {"username": "hand", "password": PASSWORD}
    assert client.post(reverse("sign-in"), good).status_code == 302
    good = {"username": "sales", "password": PASSWORD}
    assert Client().post(reverse("sign-in"), good, REMOTE_ADDR="192.0.2.9").status_code == 302


def test_going_through_many_names_from_one_address_stops(people, client: Client):
    for number in range(30):
        assert wrong(client, f"name{number}").status_code == 200
    assert wrong(client, "name30").status_code == 429
    assert wrong(client, "name30", "192.0.2.9").status_code == 200


def test_many_addresses_on_one_name_stop(people, client: Client):
    for number in range(60):
        assert wrong(client, "sales", f"192.0.2.{number}").status_code == 200
    assert wrong(client, "sales", "198.51.100.1").status_code == 429


def test_success_wipes_what_was_counted(people, client: Client):
    for _ in range(4):
        wrong(client)
    client.post(reverse("sign-in"), {"username": "sales", "password": PASSWORD})
    client.post(reverse("sign-out"))
    for _ in range(4):
        assert wrong(client).status_code == 200


def test_what_was_typed_as_a_name_is_not_kept(people, client: Client):
    wrong(client, "my password typed by mistake")
    assert "password" not in SignInTry.objects.get().name_key


def test_password_change_ends_other_sessions(people, as_role):
    here, elsewhere = as_role("sales"), as_role("sales")
    form = {"old": PASSWORD, "password": "a new and longer one", "again": "a new and longer one"}
    assert here.post(reverse("password"), form).headers["Location"] == reverse("today")
    assert here.get(reverse("yard")).status_code == 200
    assert elsewhere.get(reverse("yard")).status_code == 302
    assert Change.objects.get().sentence == "Sal Brandt chose a new password."


@pytest.mark.parametrize(
    ("form", "field", "says"),
    [
        ({"old": "wrong"}, "old", "This is not your password until now."),
        ({"password": PASSWORD, "again": PASSWORD}, "password", "This is the password you have; choose another."),
    ],
)
def test_password_change_faults(people, as_role, form: dict, field: str, says: str):
    whole = {"old": PASSWORD, "password": "a new and longer one", "again": "a new and longer one", **form}
    answer = as_role("sales").post(reverse("password"), whole)
    assert answer.context["form"].errors[field] == [says]
    assert User.objects.get(username="sales").check_password(PASSWORD)


def test_guessing_the_old_password_stops(people, as_role):
    client = as_role("sales")
    whole = {"old": "wrong", "password": "a new and longer one", "again": "a new and longer one"}
    codes = [client.post(reverse("password"), whole).status_code for _ in range(6)]
    assert codes == [200] * 5 + [429]


def test_passwords_are_stored_by_scrypt():
    from rubrail.desk import settings

    assert settings.PASSWORD_HASHERS[0] == "django.contrib.auth.hashers.ScryptPasswordHasher"
    from django.contrib.auth.hashers import ScryptPasswordHasher

    stored = ScryptPasswordHasher().encode(PASSWORD, "saltsaltsaltsaltsaltsa")
    assert identify_hasher.__module__ == "django.contrib.auth.hashers"
    assert stored.startswith("scrypt$")
    assert PASSWORD not in stored


def test_demo_entry_only_in_the_demo_and_at_this_machine(people, settings):
    form = {"role": "sales"}
    assert Client().post(reverse("enter-demo"), form).status_code == 404
    settings.RUBRAIL_DEMO = True
    assert Client().post(reverse("enter-demo"), form, REMOTE_ADDR="192.0.2.7").status_code == 404
    client = Client()
    assert client.post(reverse("enter-demo"), form).headers["Location"] == reverse("today")
    assert client.get(reverse("yard")).context["user"].role == "sales"


@pytest.mark.django_db(transaction=True)
def test_tries_sent_at_the_same_moment_do_not_slip_past(people):
    import threading

    from django.db import connection

    outcomes: list[str] = []
    barrier = threading.Barrier(12)

    def guess() -> None:
        barrier.wait()
        try:
            tries.begin(name="sales", address="192.0.2.7")
            outcomes.append("tried")
        except tries.TooManyTriesError:
            outcomes.append("waits")
        finally:
            connection.close()

    threads = [threading.Thread(target=guess) for _ in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (outcomes.count("tried"), outcomes.count("waits")) == (5, 7)


@pytest.mark.django_db(transaction=True)
def test_of_two_first_owners_one_is_first():
    import threading

    from django.db import connection

    from rubrail.desk.people import set_up_owner

    made: list[bool] = []
    barrier = threading.Barrier(4)

    def set_up(number: int) -> None:
        barrier.wait()
        made.append(set_up_owner(username=f"n{number}", name=f"N {number}", password=PASSWORD) is not None)
        connection.close()

    threads = [threading.Thread(target=set_up, args=(n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(made) == [False, False, False, True]
    assert User.objects.count() == 1
