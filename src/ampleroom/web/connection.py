"""One connection to the server: cut off if it sends too slowly, or does not take what it asked for.

uvicorn bounds none of that before a request is whole. On this machine's own address any page in the browser can open
connections, and those that never say anything must not keep the page out.
"""

from __future__ import annotations

import asyncio
from typing import ClassVar

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from ampleroom.web.guard import PATIENCE, Receive, Scope, Send, answer, log, refusal

MOST_AT_ONCE = 200


class Connection(H11Protocol):
    """uvicorn's own connection, with a bound on how long the head of a request takes and an answer waits to be
    taken.
    """

    patience: ClassVar[float] = PATIENCE
    coming: asyncio.TimerHandle | None = None
    going: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start the time for the first head; past ``MOST_AT_ONCE`` connections each request gets a 503."""
        super().connection_made(transport)
        if len(self.connections) > MOST_AT_ONCE:
            self.app = busy
        self.expect()

    def data_received(self, data: bytes) -> None:
        """Hand on what came; the time for a head runs until the head is whole."""
        if self.transport.is_closing():
            return
        super().data_received(data)
        if self.conn.their_state is h11.IDLE:
            self.expect()
        else:
            self.no_longer("coming")

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop both timers: nobody is there to be cut off."""
        self.no_longer("coming")
        self.no_longer("going")
        super().connection_lost(exc)

    def pause_writing(self) -> None:
        """The client has stopped reading: it has ``patience`` seconds to go on."""
        super().pause_writing()
        if self.going is None:
            self.going = self.loop.call_later(self.patience, self.not_taken)

    def resume_writing(self) -> None:
        """The client reads again."""
        self.no_longer("going")
        super().resume_writing()

    def expect(self) -> None:
        """From its first moment, or the first byte of its next request, a head has so long to be whole."""
        if self.coming is None:
            self.coming = self.loop.call_later(self.patience, self.not_come)

    def no_longer(self, which: str) -> None:
        """Stop a timer, ``"coming"`` or ``"going"``, if it runs."""
        timer = getattr(self, which)
        if timer is not None:
            timer.cancel()
            setattr(self, which, None)

    def not_come(self) -> None:
        """The head did not come in time: log it and answer 408."""
        self.coming = None
        log.warning("refused a connection: the request came too slowly")
        self.refuse(408, "the request came too slowly")

    def not_taken(self) -> None:
        """The answer was not read in time: log it and cut the connection."""
        self.going = None
        log.warning("cut a connection: the answer was not taken")
        self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        """The answer to what is not HTTP, in the words and headers of every other refusal."""
        self.refuse(400, "not an HTTP request")

    def refuse(self, status: int, why: str) -> None:
        """An answer from here, with the same headers as every other."""
        if self.transport.is_closing():
            return
        headers, body = refusal(why)
        try:
            if self.conn.our_state in (h11.IDLE, h11.SEND_RESPONSE):
                response = h11.Response(status_code=status, headers=headers, reason=why.encode())
                for event in (response, h11.Data(data=body), h11.EndOfMessage()):
                    self.transport.write(self.conn.send(event) or b"")
        except h11.LocalProtocolError:
            pass  # nothing can be said to it any more
        self.transport.close()
        self.loop.call_later(1, self.transport.abort)


async def busy(scope: Scope, receive: Receive, send: Send) -> None:
    """The application for a connection too many: answers 503, whatever is asked."""
    log.warning("refused a request: too many connections at once")
    await answer(send, 503, "too many connections at once")
