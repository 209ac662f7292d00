"""Signing in and out, and choosing a password."""

from typing import Any

from django.contrib import messages
from django.contrib.auth import views
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator

from buildlog import clock
from buildlog.context import TitleBlock
from buildlog.forms.sign_in import ChangePasswordForm, ChoosePasswordForm, SignInForm


class SheetMixin:
    """Puts the page's title where the sheet wants it."""

    title = ""

    def get_context_data(self, **kwargs: Any) -> dict[str, Any]:
        block = TitleBlock(date=clock.today(), kind="Sign-in", title=self.title)
        context: dict[str, Any] = super().get_context_data(**kwargs)  # type: ignore[misc]
        return {**context, "title": self.title, "tb": block}


class SignIn(SheetMixin, views.LoginView):
    title = "Sign in"
    form_class = SignInForm
    template_name = "registration/sign_in.html"
    redirect_authenticated_user = True


@method_decorator(login_not_required, name="dispatch")
class SignOut(views.LogoutView):
    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        response = super().post(request, *args, **kwargs)
        response.headers["Clear-Site-Data"] = '"cache", "storage"'
        return response


class ChoosePassword(SheetMixin, views.PasswordResetConfirmView):
    """Where the one-time link leads; the link is dead once a password has been chosen with it."""

    title = "Choose a password"
    form_class = ChoosePasswordForm
    template_name = "registration/choose_password.html"
    success_url = reverse_lazy("home")
    post_reset_login = True
    post_reset_login_backend = "django.contrib.auth.backends.ModelBackend"

    def form_valid(self, form: Any) -> HttpResponse:
        response = super().form_valid(form)
        name = form.user.get_username()
        messages.success(self.request, f"The password is kept. Your name for signing in is {name}.")
        return response


class ChangePassword(SheetMixin, views.PasswordChangeView):
    title = "Change the password"
    form_class = ChangePasswordForm
    template_name = "registration/change_password.html"
    success_url = reverse_lazy("home")

    def form_valid(self, form: Any) -> HttpResponse:
        messages.success(self.request, "The new password is kept. Other browsers have to sign in again.")
        return super().form_valid(form)
