"""Someone at a browser, without a browser: cookies, forms with their token, one line kept open."""

from __future__ import annotations

import contextlib
import http.client
from collections.abc import Mapping
from http.cookies import SimpleCookie
from typing import NamedTuple
from urllib.parse import urlencode

PATIENCE_S = 30.0
FORM = "application/x-www-form-urlencoded"


class Answer(NamedTuple):
    """What a server answered."""

    status: int
    headers: Mapping[str, str]
    text: str

    @property
    def done(self) -> bool:
        """Whether what was asked for was done."""
        return self.status < http.client.BAD_REQUEST


class Browser:
    """Asks one server, given as HOST:PORT; raises OSError or HTTPException where it does not answer."""

    def __init__(self, where: str) -> None:
        self.cookies: dict[str, str] = {}
        self.went_to(where)

    def went_to(self, where: str) -> None:
        """Ask at another address from now on, with the same cookies."""
        self.where = where
        self._line = http.client.HTTPConnection(where, timeout=PATIENCE_S)

    def get(self, path: str) -> Answer:
        """Return the answer to a page asked for; no redirect is followed."""
        return self._asked("GET", path, None, {})

    def post(self, path: str, **fields: object) -> Answer:
        """Return the answer to a form sent, with the token that forms of this server carry."""
        told = {name: str(value) for name, value in fields.items()}
        body = urlencode(told | {"csrfmiddlewaretoken": self.cookies.get("csrftoken", "")})
        return self._asked("POST", path, body, {"Content-Type": FORM})

    def log_in(self, name: str, password: str) -> None:
        """Sign in; raises RuntimeError where the server does not let us."""
        self.get("/login/")
        if not self.post("/login/", username=name, password=password).done:
            raise RuntimeError("we cannot sign in")

    def _asked(self, method: str, path: str, body: str | None, more: Mapping[str, str]) -> Answer:
        cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        headers = {"Cookie": cookies, **more} if cookies else dict(more)
        try:
            self._line.request(method, path, body=body, headers=headers)
            answer = self._line.getresponse()
            text = answer.read().decode(errors="replace")
        except (OSError, http.client.HTTPException):
            with contextlib.suppress(OSError):
                self._line.close()  # the next question opens another one
            raise
        for line in answer.headers.get_all("Set-Cookie") or []:
            self.cookies |= {name: found.value for name, found in SimpleCookie(line).items()}
        return Answer(answer.status, dict(answer.headers), text)
