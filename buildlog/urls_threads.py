"""Addresses of the threads a build uses."""

from django.urls import path

from buildlog.views import thread_changes, threads_used

urlpatterns = [
    path("builds/<int:pk>/threads/", threads_used.thread_list, name="thread_list"),
    path("builds/<int:pk>/threads/words/", threads_used.thread_words, name="thread_words"),
    path("builds/<int:pk>/threads/change/", thread_changes.thread_bulk, name="thread_bulk"),
    path("parts/<int:pk>/threads/new/", threads_used.thread_new, name="thread_new"),
    path("threads/<int:pk>/", threads_used.thread_edit, name="thread_edit"),
    path("threads/<int:pk>/remove/", threads_used.thread_remove, name="thread_remove"),
]
