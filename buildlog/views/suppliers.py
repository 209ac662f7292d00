"""Suppliers: who they are, and how long they took before."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access
from buildlog.actions.records import write_record
from buildlog.forms.orders import SupplierForm
from buildlog.models import Supplier
from buildlog.views.pages import show
from buildlog.views.standing import changes
from buildlog.waiting.rows import waits_before
from buildlog.waiting.standing import standing_of


@require_http_methods(["GET", "HEAD", "POST"])
@changes(Supplier, SupplierForm)
def supplier_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a supplier's name, address and telephone; see what was ordered and how long it took."""
    supplier = access.supplier_to_write(request.user, pk)
    name = supplier.name
    form = SupplierForm(request.POST or None, instance=supplier)
    if request.method == "POST" and form.is_valid():
        write_record(form, supplier.build, by=request.user)
        messages.success(request, "Written down.")
        return redirect("order_list", supplier.build_id)
    return show(
        request,
        "buildlog/supplier_form.html",
        title=name,
        kind="Supplier",
        build=supplier.build,
        nav="stores",
        form=form,
        orders=list(supplier.orders.all()),
        waits=sorted(waits_before(standing_of(supplier.build)).get(name, [])),
        status=422 if form.errors else 200,
    )
