"""Addresses of signing in and out and of passwords."""

from django.urls import path

from buildlog.views import sign_in

urlpatterns = [
    path("sign-in/", sign_in.SignIn.as_view(), name="sign_in"),
    path("sign-out/", sign_in.SignOut.as_view(), name="sign_out"),
    path("sign-in/<uidb64>/<token>/", sign_in.ChoosePassword.as_view(), name="choose_password"),
    path("password/", sign_in.ChangePassword.as_view(), name="change_password"),
]
