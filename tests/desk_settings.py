"""The desk's settings for tests: a data folder of their own, passwords hashed quickly, static files as they are."""

import atexit
import os
import shutil
import tempfile

for _name in [name for name in os.environ if name.startswith("RUBRAIL_")]:
    del os.environ[_name]
os.environ["RUBRAIL_HOME"] = tempfile.mkdtemp(prefix="rubrail-desk-tests-")
atexit.register(shutil.rmtree, os.environ["RUBRAIL_HOME"], ignore_errors=True)

from rubrail.desk.settings import *  # noqa: E402, F403
from rubrail.desk.settings import DATABASES, RUBRAIL_HOME, STORAGES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {**STORAGES, "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
WHITENOISE_USE_FINDERS = True
# In a file, as in a yard: SQLite in memory locks whole tables and waits for nobody.
DATABASES["default"]["TEST"] = {"NAME": str(RUBRAIL_HOME / "test.sqlite3")}
(RUBRAIL_HOME / "static").mkdir()
