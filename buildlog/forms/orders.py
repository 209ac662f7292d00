"""Entries about orders: what is asked for, of whom, what was said since."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from buildlog import clock
from buildlog.actions.stores import Asked
from buildlog.forms.castings import ActForm, casting_typed
from buildlog.forms.days import CountField, DayField, PromiseField
from buildlog.forms.standing import StandsForm
from buildlog.models import Build, Casting, Order, Supplier
from buildlog.money import read_money
from buildlog.signs import SeenForm, refuse_unseen

LINES = 6
SPARE = 2
MOST_LINES = 80


class PriceField(forms.Field):
    """The price of one, as it is typed."""

    widget = forms.TextInput(attrs={"inputmode": "decimal", "maxlength": "20", "autocomplete": "off"})

    def to_python(self, value: Any) -> Decimal | None:
        text = str(value or "").strip()
        if not text:
            return None
        refuse_unseen(text)
        try:
            return read_money(text)
        except ValueError as wrong:
            raise ValidationError(str(wrong)) from None


def _number_input() -> forms.TextInput:
    attrs = {"maxlength": "30", "list": "castings", "autocomplete": "off", "autocapitalize": "characters"}
    return forms.TextInput(attrs=attrs)


class OrderForm(ActForm):
    """The head of an order: of whom, its number, its day."""

    supplier = forms.ModelChoiceField(
        Supplier.objects.none(), label="Supplier", required=False, empty_label="somebody new, named below"
    )
    new_supplier = forms.CharField(
        label="Or a new supplier", required=False, max_length=80, help_text="A foundry or a dealer, by name."
    )
    number = forms.CharField(label="Number", max_length=20, help_text="Your own, or the supplier’s.")
    ordered_on = DayField(label="Ordered on")
    note = forms.CharField(
        label="Note", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *args: Any, build: Build, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.build = build
        supplier = self.fields["supplier"]
        assert isinstance(supplier, forms.ModelChoiceField)
        supplier.queryset = build.suppliers.all()

    def clean_number(self) -> str:
        number = " ".join(str(self.cleaned_data["number"]).upper().split())
        if Order.objects.filter(build=self.build, number=number).exists():
            raise ValidationError(
                f"{number} is an order of this build already. Give this one another number."
            )
        return number

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        named = " ".join(str(data.get("new_supplier") or "").split())
        chosen = data.get("supplier")
        if named and chosen and named.casefold() != chosen.name.casefold():
            self.add_error(
                "new_supplier",
                f"{chosen.name} is chosen above, and another named here. Empty one of the two.",
            )
        elif not named and not chosen and not {"supplier", "new_supplier"} & set(self.errors):
            self.add_error("supplier", "Of whom is it ordered? Choose a supplier, or write a new name below.")
        data["new_supplier"] = named
        return data

    def supplier_asked(self) -> Supplier:
        """The supplier chosen or named; one of the same name is taken, a new one is written down."""
        chosen: Supplier | None = self.cleaned_data["supplier"]
        if chosen:
            return chosen
        name = self.cleaned_data["new_supplier"]
        same = self.build.suppliers.filter(name__iexact=name).first()
        return same or Supplier.objects.create(build=self.build, name=name)


class LineForm(SeenForm, forms.Form):
    """One casting of an order."""

    number = forms.CharField(label="Casting", required=False, max_length=30, widget=_number_input())
    quantity = CountField(label="How many", required=False)
    price = PriceField(label="Price each", required=False)
    promised_on = PromiseField(label="Promised", required=False)

    def __init__(self, *args: Any, castings: Mapping[str, Casting], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.castings = castings
        self.casting: Casting | None = None

    def clean_number(self) -> str:
        self.casting = casting_typed(self.castings, str(self.cleaned_data["number"]))
        return self.casting.number if self.casting else ""

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        number, quantity = data.get("number"), data.get("quantity")
        if number and quantity is None and "quantity" not in self.errors:
            self.add_error("quantity", f"How many of {number}? Write a whole number from 1 to 999.")
        typed = any(data.get(name) is not None for name in ("quantity", "price", "promised_on"))
        if typed and not number and "number" not in self.errors:
            self.add_error("number", "Which casting is this line for? Write its number, or empty the line.")
        return data

    def asked(self) -> Asked | None:
        """What this line asks for; nothing where it was left empty."""
        if self.casting is None:
            return None
        said = self.cleaned_data
        return Asked(self.casting, said["quantity"], price=said["price"], promised_on=said["promised_on"])


class BaseLineFormSet(forms.BaseFormSet):  # type: ignore[type-arg]
    """All the lines of an order."""

    def clean(self) -> None:
        if any(self.errors):
            return
        seen: dict[str, int] = {}
        for place, form in enumerate(self.forms, 1):
            number = form.cleaned_data.get("number")
            if number in seen:
                form.add_error(
                    "number", f"{number} stands in line {seen[number]} already. Put both quantities there."
                )
            elif number:
                seen[number] = place
        if not seen:
            raise ValidationError("Nothing is ordered yet: write a casting’s number and how many in a line.")

    @property
    def asked(self) -> list[Asked]:
        return [asked for form in self.forms if (asked := form.asked())]


def line_forms(filled: int) -> "type[forms.BaseFormSet[LineForm]]":
    """So many lines that are filled in, and empty ones to six in all, two at the least."""
    return forms.formset_factory(
        LineForm,
        formset=BaseLineFormSet,
        extra=max(LINES - filled, SPARE),
        max_num=MOST_LINES,
        absolute_max=MOST_LINES,
        validate_max=True,
    )


class AddLineForm(LineForm, ActForm):
    """One casting more on an order that is written already."""

    on = DayField(label="Asked for on")
    field_order = ("number", "quantity", "price", "promised_on", "on", "token")

    def __init__(self, *args: Any, order: Order, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.order = order
        for name in ("number", "quantity"):
            self.fields[name].required = True
        self.fields["number"].error_messages["required"] = "Which casting? Write its number, as K-040."

    def clean_on(self) -> Any:
        return not_before(self.order, self.cleaned_data["on"], "asked for")


class ChaseForm(ActForm):
    """The supplier was asked where it is."""

    said = forms.CharField(label="What was said", required=False, max_length=300)
    promised_on = PromiseField(label="Promised now", required=False, help_text="Empty if no day was given.")
    on = DayField(label="Asked on")

    def __init__(self, *args: Any, order: Order | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.order = order

    def clean_on(self) -> Any:
        return not_before(self.order, self.cleaned_data["on"], "asked after")


class CancelForm(ActForm):
    """What is still owed is not coming."""

    why = forms.CharField(label="Why", required=False, max_length=300, help_text="Pattern lost; money back.")
    on = DayField(label="Told on")

    def __init__(self, *args: Any, order: Order | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.order = order

    def clean_on(self) -> Any:
        return not_before(self.order, self.cleaned_data["on"], "called off")


class OrderEditForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """What may be put right on an order that is written: its lines are told by what happened."""

    thing = "order"

    class Meta:
        model = Order
        fields = ("supplier", "number", "note")
        widgets = {"note": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        supplier = self.fields["supplier"]
        assert isinstance(supplier, forms.ModelChoiceField)
        supplier.queryset = self.instance.build.suppliers.all()
        supplier.empty_label = None

    def clean_number(self) -> str:
        number = " ".join(str(self.cleaned_data["number"]).upper().split())
        others = Order.objects.filter(build=self.instance.build, number=number).exclude(pk=self.instance.pk)
        if others.exists():
            raise ValidationError(f"{number} is another order of this build. Give this one another number.")
        return number


class SupplierForm(StandsForm, forms.ModelForm):  # type: ignore[type-arg]
    """A foundry or a dealer."""

    thing = "supplier"

    class Meta:
        model = Supplier
        fields = ("name", "note")
        widgets = {"note": forms.Textarea(attrs={"rows": 4})}

    def clean_name(self) -> str:
        name = " ".join(str(self.cleaned_data["name"]).split())
        others = Supplier.objects.filter(build=self.instance.build, name__iexact=name)
        if others.exclude(pk=self.instance.pk).exists():
            raise ValidationError(f"{name} is a supplier of this build already. Give this one another name.")
        return name


def line_errors(lines: "forms.BaseFormSet[Any]") -> list[str]:
    """What is wrong with lines of entries, to be said over them: `Line 2, how many: …`."""
    found = [str(error) for error in lines.non_form_errors()]
    for place, form in enumerate(lines.forms, 1):
        for name, errors in form.errors.items():
            found += [f"Line {place}, {str(form.fields[name].label).lower()}: {error}" for error in errors]
    return found


def not_before(order: Order | None, day: Any, done: str) -> Any:
    """Nothing can happen to an order before it was written."""
    if order and day and day < order.ordered_on:
        was = clock.day_in_full(order.ordered_on)
        raise ValidationError(
            f"Order {order.number} was written on {was}: nothing of it can have been {done} before. "
            "Put one of the two days right."
        )
    return day
