"""Addresses of the stores: castings, orders, deliveries."""

from django.urls import path

from buildlog.views import castings, deliveries, orders, stores, suppliers

urlpatterns = [
    path("builds/<int:pk>/stores/", stores.waiting_page, name="stores"),
    path("builds/<int:pk>/stores/received/", deliveries.delivery_new, name="delivery_new"),
    path("builds/<int:pk>/stores/look/", deliveries.judge, name="judge"),
    path("builds/<int:pk>/castings/", castings.casting_list, name="casting_list"),
    path("builds/<int:pk>/castings/new/", castings.casting_new, name="casting_new"),
    path("builds/<int:pk>/orders/", orders.order_list, name="order_list"),
    path("builds/<int:pk>/orders/new/", orders.order_new, name="order_new"),
    path("castings/<int:pk>/", castings.casting_page, name="casting_page"),
    path("castings/<int:pk>/change/", castings.casting_edit, name="casting_edit"),
    path("castings/<int:pk>/remove/", castings.casting_remove, name="casting_remove"),
    path("castings/<int:pk>/allot/<int:part>/", castings.casting_allot, name="casting_allot"),
    path("castings/<int:pk>/bad/", castings.casting_bad, name="casting_bad"),
    path("orders/<int:pk>/", orders.order_page, name="order_page"),
    path("orders/<int:pk>/change/", orders.order_edit, name="order_edit"),
    path("orders/<int:pk>/add/", orders.order_add, name="order_add"),
    path("orders/<int:pk>/chase/", orders.order_chase, name="order_chase"),
    path("orders/<int:pk>/received/", deliveries.order_received, name="order_received"),
    path("order-lines/<int:pk>/chase/", orders.line_chase, name="line_chase"),
    path("order-lines/<int:pk>/cancel/", orders.line_cancel, name="line_cancel"),
    path("suppliers/<int:pk>/", suppliers.supplier_edit, name="supplier_edit"),
    path("stores-events/<int:pk>/undo/", stores.event_undo, name="event_undo"),
]
