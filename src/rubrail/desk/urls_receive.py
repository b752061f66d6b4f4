"""Addresses of receiving."""

from django.urls import path

from rubrail.desk.views import receive, receive_damage, receive_decide, receive_steps

RECEIVE_PATHS = [
    path("receive/", receive.receive, name="receive"),
    path("receive/new/", receive.receive_new, name="receive-new"),
    path("receive/<slug:number>/", receive.receipt, name="receipt"),
    path("receive/<slug:number>/head/", receive.receipt_head, name="receipt-head"),
    path("receive/<slug:number>/claim/", receive.receipt_claim, name="receipt-claim"),
    path("receive/<slug:number>/report.pdf", receive.receipt_paper, name="receipt-paper"),
    path("receive/<slug:number>/vin/", receive_steps.receipt_vin, name="receipt-vin"),
    path("receive/<slug:number>/vin/<slug:place>/", receive_steps.receipt_vin_check, name="receipt-vin-check"),
    path("receive/<slug:number>/fields/", receive_steps.receipt_fields, name="receipt-fields"),
    path("receive/<slug:number>/damage/", receive_damage.receipt_damage, name="receipt-damage"),
    path("receive/<slug:number>/damage/<int:pk>/", receive_damage.receipt_damage_change, name="receipt-damage-change"),
    path("receive/<slug:number>/parts/", receive_steps.receipt_parts, name="receipt-parts"),
    path("receive/<slug:number>/ratings/", receive_decide.receipt_ratings, name="receipt-ratings"),
    path("receive/<slug:number>/decide/", receive_decide.receipt_outcome, name="receipt-outcome"),
]
