"""Addresses of the scrap book."""

from django.urls import path

from buildlog.views import scrap

urlpatterns = [
    path("builds/<int:pk>/scrap/", scrap.scrap_list, name="scrap_list"),
    path("builds/<int:pk>/scrap/new/", scrap.scrap_new, name="scrap_new"),
    path("scrap/<int:pk>/", scrap.scrap_page, name="scrap_page"),
    path("scrap/<int:pk>/change/", scrap.scrap_edit, name="scrap_edit"),
    path("scrap/<int:pk>/bin/", scrap.scrap_bin, name="scrap_bin"),
    path("scrap/<int:pk>/restore/", scrap.scrap_restore, name="scrap_restore"),
    path("scrap/<int:pk>/again/", scrap.lesson_again, name="lesson_again"),
]
