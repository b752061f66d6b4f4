"""An address whose view says nothing of who may open it."""

from django.http import HttpResponse
from django.urls import path


def bare(request):
    return HttpResponse()


urlpatterns = [path("bare/", bare, name="bare")]
