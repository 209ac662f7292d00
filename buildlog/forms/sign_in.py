"""Forms for signing in and for passwords."""

from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, SetPasswordForm
from django.contrib.auth.models import User

if TYPE_CHECKING:
    NewPasswordForm = SetPasswordForm[User]
else:
    # Django's own class takes no type in brackets at run time.
    NewPasswordForm = SetPasswordForm

RULE = "Ten characters or more; not only figures, not a common password, not much like the name."


def _dress(form: forms.BaseForm) -> None:
    for field in form.fields.values():
        field.widget.attrs["class"] = "in"


class SignInForm(AuthenticationForm):
    error_messages = {
        "invalid_login": (
            "This name and this password do not belong together. Capitals count in both. "
            "If no password has been chosen yet, open the link that was printed where Hornplate was started."
        ),
        "inactive": "This account has been closed.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        _dress(self)


class ChoosePasswordForm(NewPasswordForm):
    error_messages = {"password_mismatch": "The two passwords differ; write the same one twice."}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _name_new_passwords(self)
        _dress(self)


class ChangePasswordForm(PasswordChangeForm):
    error_messages = {
        **ChoosePasswordForm.error_messages,
        "password_incorrect": "This is not the password you have now; write it once more.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["old_password"].label = "Password now"
        _name_new_passwords(self)
        _dress(self)


def _name_new_passwords(form: forms.BaseForm) -> None:
    form.fields["new_password1"].label = "New password"
    form.fields["new_password1"].help_text = RULE
    form.fields["new_password2"].label = "New password once more"
    form.fields["new_password2"].help_text = ""
