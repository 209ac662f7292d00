"""Addresses of what was really made: characteristics, readings, concessions."""

from django.urls import path

from buildlog.views import concessions, made

urlpatterns = [
    path("parts/<int:pk>/made/", made.part_made, name="part_made"),
    path("parts/<int:pk>/made/new/", made.characteristic_new, name="characteristic_new"),
    path("characteristics/<int:pk>/", made.characteristic_edit, name="characteristic_edit"),
    path("characteristics/<int:pk>/remove/", made.characteristic_remove, name="characteristic_remove"),
    path("readings/<int:pk>/strike/", made.reading_strike, name="reading_strike"),
    path("readings/<int:pk>/concession/", concessions.concession_open, name="concession_open"),
    path("builds/<int:pk>/concessions/", concessions.concession_list, name="concession_list"),
    path("concessions/<int:pk>/", concessions.concession_page, name="concession_page"),
    path("concession-mates/<int:pk>/told/", concessions.mate_told, name="mate_told"),
]
