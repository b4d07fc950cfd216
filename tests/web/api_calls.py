"""How tests call the API, and what they look for in its answers."""

from __future__ import annotations

import json
from typing import Any

from django.test import Client

CELLAR = """faywright = "shop 1"
title = "Cellar"
[[machine]]
mark = "table"
speeds_rpm = [12000]
[[gauge]]
mark = "calipers"
uses = ["thickness", "height", "fence"]
resolution = 0.01
repeatability = 0.02
"""
KNOWN_WORDS = "seven oak boards by the door"
TRIED = {"readings": {"tongue_mm": [5.93, 5.94], "groove_mm": [6.31], "stock_mm": [19.02]}}


def sent(client: Client, method: str, address: str, body: object, **more: Any) -> Any:
    content = json.dumps(body)
    return client.generic(method, f"/api/{address}", content, "application/json", **more)


def post(client: Client, address: str, body: object, **more: Any) -> Any:
    return sent(client, "POST", address, body, **more)


def get(client: Client, address: str) -> Any:
    answer = client.get(f"/api/{address}")
    assert answer.status_code == 200, answer.content
    return answer.json()


def put_width(client: Client, piece: int, base: int, width: object) -> Any:
    edit = {"do": "put", "path": ["board", "D1", "width"], "value": width}
    return post(
        client,
        f"documents/{piece}/changes",
        {"base": base, "what": f"width of board D1: {width}", "edits": [edit]},
    )


def refused(answer: Any, status: int) -> Any:
    assert answer.status_code == status, answer.content
    error = answer.json()["error"]
    assert error["what"]
    assert error["where"]
    assert error["remedy"]
    return error
