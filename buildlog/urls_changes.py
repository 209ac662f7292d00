"""Addresses of what was changed, and of undoing it."""

from django.urls import path

from buildlog.views import changes

urlpatterns = [
    path("builds/<int:pk>/changes/", changes.change_list, name="change_list"),
    path("workshop/changes/", changes.own_change_list, name="own_change_list"),
    path("changes/<int:pk>/", changes.change_page, name="change_page"),
    path("changes/<int:pk>/undo/", changes.change_undo, name="change_undo"),
]
