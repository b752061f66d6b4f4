"""The declared list of permissions."""

import pytest
from django.template import Context, Template

from rubrail.desk.access import requires
from rubrail.desk.models import User
from rubrail.desk.permissions import PERMISSIONS, ROLES, UnknownPermissionError, permission, role_may


def test_each_has_a_label_a_help_and_known_roles():
    names = [p.name for p in PERMISSIONS]
    assert len(set(names)) == len(names)
    for p in PERMISSIONS:
        assert p.label
        assert p.help.endswith(".")
        assert set(p.roles) <= set(ROLES)
        assert "owner" in p.roles


@pytest.mark.parametrize("ask", [permission, lambda n: role_may("owner", n), requires, User(role="owner").may])
def test_a_name_nobody_declared_is_an_error(ask):
    with pytest.raises(UnknownPermissionError, match=r"'yard\.burn' is no permission; the list has account\.own"):
        ask("yard.burn")


def test_a_template_asking_for_an_undeclared_name_is_an_error():
    template = Template('{% may "yard.burn" as it %}')
    with pytest.raises(UnknownPermissionError):
        template.render(Context({"user": User(role="viewer")}))


def test_cost_is_for_owner_and_sales_only():
    assert [role for role in ROLES if role_may(role, "money.see")] == ["owner", "sales"]
    assert [role for role in ROLES if role_may(role, "people.manage")] == ["owner"]


def test_a_closed_account_may_nothing():
    assert User(role="owner", is_active=True).may("yard.see")
    assert not User(role="owner", is_active=False).may("yard.see")
