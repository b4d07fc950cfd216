"""Signing in and out, and the page on which a keeper looks after accounts."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.contrib.auth import login, logout, update_session_auth_hash
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from faywright.errors import InputError
from faywright.web.entry import accounts
from faywright.web.entry.attempts import TooManyTries, attempts
from faywright.web.entry.entering import address_of, entering
from faywright.web.entry.first_keeper import first_keeper
from faywright.web.entry.mode import Mode, mode
from faywright.web.entry.refusals import FORBIDDEN, TOO_MANY, refused, safe_next

WRONG = 422

require_page = require_http_methods(["GET", "HEAD", "POST"])


@require_page
@sensitive_post_parameters("password")
def sign_in(request: HttpRequest) -> HttpResponse:
    """The page where one signs in, and what was typed there."""
    to = safe_next(request, request.POST.get("next") or request.GET.get("next", ""))
    if mode() is Mode.HERE or request.user.is_authenticated:
        return HttpResponseRedirect(to)
    if mode() is Mode.ACCOUNTS and first_keeper.is_awaited():
        return redirect("first-keeper")
    if request.method != "POST":
        return _sign_in_page(request, to)
    try:
        user = entering(request, request.POST.get("name", ""), request.POST.get("password", ""))
    except TooManyTries as error:
        return _sign_in_page(request, to, error)
    if user is None:
        return _sign_in_page(request, to, _wrong())
    login(request, user)
    return HttpResponseRedirect(to)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Forget who is at this device."""
    logout(request)
    return redirect("sign-in")


@require_page
@sensitive_post_parameters("code", "password")
def first_keeper_page(request: HttpRequest) -> HttpResponse:
    """Where the first keeper makes their account, with the code that the terminal shows."""
    if mode() is not Mode.ACCOUNTS or not first_keeper.is_awaited():
        raise Http404
    if request.method != "POST":
        return render(request, "faywright/first_keeper.html")
    code, name = request.POST.get("code", ""), request.POST.get("name", "")
    try:
        made = attempts().begin(address_of(request))
        if first_keeper.knows(code):
            attempts().right(made)
        account = first_keeper.add(code, name, request.POST.get("password", ""))
    except InputError as error:
        context = {"error": error, "name": name}
        return _with(error, render(request, "faywright/first_keeper.html", context))
    login(request, accounts.numbered(account.number), backend=BACKEND)
    return redirect("accounts")


BACKEND = "django.contrib.auth.backends.ModelBackend"

View = Callable[..., HttpResponse]


def _with_accounts(view: View) -> View:
    """For a view that is there only where people have accounts."""

    @wraps(view)
    def only(request: HttpRequest, **named: int) -> HttpResponse:
        if mode() is not Mode.ACCOUNTS:
            raise Http404
        return view(request, **named)

    return only


def _by_keeper(change: Callable[..., object]) -> View:
    """The view in which a keeper changes something; back to the list, with what went wrong."""

    @_with_accounts
    @require_POST
    @sensitive_post_parameters("password")
    @wraps(change)
    def view(request: HttpRequest, **named: int) -> HttpResponse:
        if not _is_keeper(request):
            return refused(request, _for_keepers(), FORBIDDEN)
        try:
            change(request, **named)
        except InputError as error:
            return _accounts_page(request, error)
        return redirect("accounts" if request.user.is_authenticated else "sign-in")

    return view


@_with_accounts
@require_safe
def accounts_page(request: HttpRequest) -> HttpResponse:
    """One's own password; for keepers, all accounts."""
    return _accounts_page(request)


@_with_accounts
@require_POST
@sensitive_post_parameters("password", "new_password")
def own_password(request: HttpRequest) -> HttpResponse:
    """Change one's own password, which one has to know."""
    name = request.user.get_username()
    try:
        if entering(request, name, request.POST.get("password", "")) is None:
            return _accounts_page(request, _not_yours())
        _set_password(request, request.user.pk or 0, request.POST.get("new_password", ""))
    except InputError as error:
        return _accounts_page(request, error)
    return _accounts_page(request, done="Your password is changed.")


@_by_keeper
def account_add(request: HttpRequest) -> None:
    """A new account."""
    name, password = request.POST.get("name", ""), request.POST.get("password", "")
    accounts.add(name, password, keeper="keeper" in request.POST)


@_by_keeper
def account_rename(request: HttpRequest, number: int) -> None:
    """Another name for an account."""
    accounts.rename(number, request.POST.get("name", ""))


@_by_keeper
def account_password(request: HttpRequest, number: int) -> None:
    """Another password for an account."""
    _set_password(request, number, request.POST.get("password", ""))


@_by_keeper
def account_keeper(request: HttpRequest, number: int) -> None:
    """Whether an account is a keeper's."""
    accounts.set_keeper(number, keeper=request.POST.get("keeper") == "yes")


@_by_keeper
def account_remove(request: HttpRequest, number: int) -> None:
    """An account less."""
    accounts.remove(number)
    if number == request.user.pk:
        logout(request)


def _set_password(request: HttpRequest, number: int, password: str) -> None:
    user = accounts.set_password(number, password)
    if number == request.user.pk:
        update_session_auth_hash(request, user)  # on this device one stays signed in


def _is_keeper(request: HttpRequest) -> bool:
    return bool(getattr(request.user, "is_staff", False))


def _sign_in_page(request: HttpRequest, to: str, error: InputError | None = None) -> HttpResponse:
    context = {
        "by_name": mode() is Mode.ACCOUNTS,
        "name": request.POST.get("name", ""),
        "shop": accounts.SHOP,
        "next": to,
        "error": error,
    }
    return _with(error, render(request, "faywright/sign_in.html", context))


def _accounts_page(
    request: HttpRequest, error: InputError | None = None, done: str = ""
) -> HttpResponse:
    keeper = _is_keeper(request)
    context = {
        "accounts": accounts.listed() if keeper else (),
        "own": request.user.pk,
        "keeper": keeper,
        "error": error,
        "done": done,
    }
    return _with(error, render(request, "faywright/accounts.html", context))


def _with(error: InputError | None, page: HttpResponse) -> HttpResponse:
    """The page, with the status that goes with an error on it."""
    if error is not None:
        page.status_code = WRONG
    if isinstance(error, TooManyTries):
        page.status_code = TOO_MANY
        page["Retry-After"] = str(error.seconds)
    return page


def _wrong() -> InputError:
    if mode() is Mode.LAN:
        remedy = "Type the words that the terminal of the shop's computer showed"
        return InputError("that is not the passphrase", where="sign-in", remedy=remedy)
    remedy = "Try again, or ask a keeper for another password"
    return InputError("name and password do not belong together", where="sign-in", remedy=remedy)


def _not_yours() -> InputError:
    remedy = "Type the one you have used so far"
    return InputError("that is not your password", where="password", remedy=remedy)


def _for_keepers() -> InputError:
    return InputError("only a keeper may do this", where="accounts", remedy="Ask one")
