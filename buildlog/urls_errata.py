"""Addresses of errata."""

from django.urls import path

from buildlog.views import errata

urlpatterns = [
    path("builds/<int:pk>/errata/", errata.erratum_list, name="erratum_list"),
    path("drawings/<int:pk>/errata/new/", errata.erratum_new, name="erratum_new"),
    path("errata/<int:pk>/", errata.erratum_page, name="erratum_page"),
    path("errata/<int:pk>/change/", errata.erratum_edit, name="erratum_edit"),
    path("errata/<int:pk>/strike/", errata.erratum_strike, name="erratum_strike"),
    path("errata/<int:pk>/look/", errata.erratum_look, name="erratum_look"),
    path("errata/<int:pk>/parts/<int:part>/", errata.erratum_part, name="erratum_part"),
    path("errata/<int:pk>/parts/<int:part>/again/", errata.erratum_again, name="erratum_again"),
]
