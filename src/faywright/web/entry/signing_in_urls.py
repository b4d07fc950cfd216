"""Addresses of signing in and of accounts."""

from __future__ import annotations

from django.urls import path

from faywright.web.entry import signing_in

urlpatterns = [
    path("sign-in", signing_in.sign_in, name="sign-in"),
    path("sign-out", signing_in.sign_out, name="sign-out"),
    path("first-keeper", signing_in.first_keeper_page, name="first-keeper"),
    path("accounts", signing_in.accounts_page, name="accounts"),
    path("accounts/own-password", signing_in.own_password, name="own-password"),
    path("accounts/add", signing_in.account_add, name="account-add"),
    path("accounts/<int:number>/name", signing_in.account_rename, name="account-rename"),
    path("accounts/<int:number>/password", signing_in.account_password, name="account-password"),
    path("accounts/<int:number>/keeper", signing_in.account_keeper, name="account-keeper"),
    path("accounts/<int:number>/remove", signing_in.account_remove, name="account-remove"),
]
