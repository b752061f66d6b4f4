"""The desk as a WSGI application, for any server that wants one; ``serve`` brings its own."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "rubrail.desk.settings")

application = get_wsgi_application()
