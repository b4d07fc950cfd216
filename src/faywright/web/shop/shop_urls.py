"""Addresses of shops and of timber."""

from __future__ import annotations

from django.urls import path

from faywright.web.pieces.going_back import bring_back, discard, go_back, history, redo, undo
from faywright.web.shop.drift import drift
from faywright.web.shop.shop_changes import shop_change, shop_forget, shop_sharpened
from faywright.web.shop.shops import new_shop, shop_file, shop_one, shops
from faywright.web.timber.timber import timber

urlpatterns = [
    path("shop", shops, name="shop"),
    path("shop/new", new_shop, name="new-shop"),
    path("shop/<int:shop>", shop_one, name="shop-one"),
    path("shop/<int:shop>/change", shop_change, name="shop-change"),
    path("shop/<int:shop>/sharpened", shop_sharpened, name="shop-sharpened"),
    path("shop/<int:shop>/forget", shop_forget, name="shop-forget"),
    path("shop/<int:shop>/shop.toml", shop_file, name="shop-file"),
    path("shop/<int:shop>/drift", drift, name="drift"),
    path("shop/<int:shop>/undo", undo, name="shop-undo"),
    path("shop/<int:shop>/redo", redo, name="shop-redo"),
    path("shop/<int:shop>/history", history, name="shop-history"),
    path("shop/<int:shop>/history/<int:number>/go-back", go_back, name="shop-go-back"),
    path("shop/<int:shop>/discard", discard, name="shop-discard"),
    path("shop/<int:shop>/bring-back", bring_back, name="shop-bring-back"),
    path("timber", timber, name="timber"),
]
