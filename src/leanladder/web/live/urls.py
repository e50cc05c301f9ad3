"""Addresses of the pages: live."""

from django.urls import URLPattern, path

from leanladder.web.live import cards, givens, lowering, measuring, stopping, views, voiding

urlpatterns: list[URLPattern] = [
    path("days/<int:pk>/live/", views.live, name="live"),
    path("days/<int:pk>/live/now/", views.now_part, name="live_now"),
    path("days/<int:pk>/live/measure/", measuring.measure, name="live_measure"),
    path("days/<int:pk>/live/rain/", voiding.rain, name="live_rain"),
    path("days/<int:pk>/live/void/", voiding.voided, name="live_void"),
    path("days/<int:pk>/live/void/now/", voiding.unconfirmed_part, name="live_unconfirmed"),
    path("days/<int:pk>/live/told/<int:given_pk>/", voiding.told, name="live_told"),
    path("days/<int:pk>/live/lower/", lowering.lower, name="live_lower"),
    path("days/<int:pk>/live/let-up/<int:lowered_pk>/", lowering.let_up, name="live_let_up"),
    path("days/<int:pk>/live/cards/", cards.cards, name="live_cards"),
    path("days/<int:pk>/live/cards/<int:group_pk>/", cards.card_sheet, name="live_card_sheet"),
    path("days/<int:pk>/live/cards/anew/<int:link_pk>/", cards.anew, name="live_card_anew"),
    path("days/<int:pk>/live/<int:run_pk>/", stopping.run, name="live_run"),
    path("days/<int:pk>/live/<int:run_pk>/now/", stopping.run_part, name="live_run_now"),
    path("days/<int:pk>/live/<int:run_pk>/give/", views.give, name="live_give"),
    path("days/<int:pk>/live/<int:run_pk>/stop/", stopping.stop, name="live_stop"),
    path("days/<int:pk>/live/<int:run_pk>/change/", stopping.change, name="live_change"),
    path("days/<int:pk>/live/<int:run_pk>/strip/", stopping.strip, name="live_strip"),
    path("days/<int:pk>/live/<int:run_pk>/restart/", stopping.restart_part, name="live_restart"),
    path("days/<int:pk>/live/<int:run_pk>/again/", stopping.give_restart, name="live_give_restart"),
    path("days/<int:pk>/given/", givens.givens, name="given"),
    path("days/<int:pk>/given/<int:given_pk>/", givens.one, name="given_one"),
]
