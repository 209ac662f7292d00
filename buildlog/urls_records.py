"""Addresses of the log and of the register of drawings."""

from django.urls import path

from buildlog.views import drawings, log, log_year

urlpatterns = [
    path("builds/<int:pk>/log/", log.log_list, name="log_list"),
    path("builds/<int:pk>/log/new/", log.log_new, name="log_new"),
    path("builds/<int:pk>/log/part/", log.part_echo, name="part_echo"),
    path("builds/<int:pk>/log/year/<int:year>/", log_year.log_year, name="log_year"),
    path("log/<int:pk>/", log.log_entry, name="log_entry"),
    path("log/<int:pk>/change/", log.log_edit, name="log_edit"),
    path("builds/<int:pk>/drawings/", drawings.drawing_list, name="drawing_list"),
    path("builds/<int:pk>/drawings/new/", drawings.drawing_new, name="drawing_new"),
    path("builds/<int:pk>/drawings/named/", drawings.drawings_named, name="drawings_named"),
    path("drawings/<int:pk>/", drawings.drawing_page, name="drawing_page"),
    path("drawings/<int:pk>/change/", drawings.drawing_edit, name="drawing_edit"),
    path("drawings/<int:pk>/issue/", drawings.issue_new, name="issue_new"),
    path("drawings/<int:pk>/issue/take-back/", drawings.issue_take_back, name="issue_take_back"),
    path("drawings/<int:pk>/follow/", drawings.issue_follow, name="issue_follow"),
]
