"""What is refused: asked from elsewhere, too large, too slow; and the headers on every answer. The server serves after
each.
"""

import http.client
import json
import socket
import time

import pytest

from tests.cli.helpers import inside
from tests.web.helpers import SHEET, Running

CSP = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "connect-src": "'self'",
    "form-action": "'none'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}


def checked_headers(answer):
    """The headers that keep a page in its place, on any answer whatever."""
    policy = dict(part.strip().split(" ", 1) for part in answer.headers["content-security-policy"].split(";"))
    assert {name: policy[name] for name in CSP} == CSP
    assert "unsafe-inline" not in answer.headers["content-security-policy"]
    assert "'unsafe-eval'" not in answer.headers["content-security-policy"]
    assert "http:" not in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["x-frame-options"] == "DENY"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert "server" not in answer.headers
    assert not [name for name in answer.headers if name.startswith("access-control-")]
    return answer


def serving(server):
    """It goes on serving."""
    assert server.get("/api/hello").json["ampleroom"]
    return True


# ---- from elsewhere ------------------------------------------------------------------------------------------------

FOREIGN_HOSTS = ["evil.example", "evil.example:8617", "127.0.0.1.evil.example", "localhost.evil.example:80", "10.0.0.7",
    "127.0.0.2",
                 "[::2]", "0.0.0.0", "", "127.0.0.1@evil.example", "evil.example:127.0.0.1", "localhost evil", "::1",
                 "127.0.0.1:name", "localhost:", "127.0.0.1:8617x", "localhost:123456", "127.0.0.1:80:80", "[::1]:name",
                 "127.0.0.1:\u0661"]  # fmt: skip


@pytest.mark.parametrize("host", FOREIGN_HOSTS)
def test_a_host_that_is_not_this_machine_is_refused(app, host):
    """A foreign name that is made to point here: the page of that name must not read what is answered."""
    for path in ("/", "/app.js", "/api/jobs", "/nothing"):
        refused = checked_headers(app.get(path, host=host))
        assert (refused.status, refused.json["kind"]) == (421, "refused")


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8617", "localhost", "localhost:1", "[::1]", "[::1]:8617"])
def test_this_machine_by_any_of_its_names_is_served(app, host):
    assert app.get("/api/hello", host=host).status == 200


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "file://", "http://127.0.0.1", "http://127.0.0.1:8618", "http://localhost:8617",
     "chrome-extension://abc", "", "http://127.0.0.1:8617.evil.example", "HTTP://127.0.0.1:8617"],
)  # fmt: skip
@pytest.mark.parametrize("method", ["GET", "POST", "PUT", "DELETE", "OPTIONS"])
def test_a_page_of_another_origin_is_refused(app, origin, method):
    job = app.new()
    data = json.dumps({"base": 1, "sheet": "x"}).encode()
    headers = {"origin": origin, "content-type": "application/json"}
    refused = checked_headers(app.ask(method, f"/api/jobs/{job['id']}", data, headers))
    assert (refused.status, refused.json["kind"]) == (403, "refused")
    assert app.job(job["id"]) == job


@pytest.mark.parametrize(
    "site", ["cross-site", "same-site", "Cross-Site", "SAME-SITE", " cross-site ", "none, cross-site", "new-word"]
)
def test_what_the_browser_says_comes_from_another_site_is_refused(app, site):
    assert checked_headers(app.get("/api/jobs", sec_fetch_site=site)).status == 403
    assert checked_headers(app.get("/", sec_fetch_site=site)).status == 200  # a link to the page may be followed
    for own in ("same-origin", "none"):
        assert app.get("/api/jobs", sec_fetch_site=own, origin="http://127.0.0.1:8617").status == 200


@pytest.mark.parametrize("second", ["http://127.0.0.1:8617", "http://evil.example", ""])
def test_a_second_origin_is_refused_whatever_it_says(server, second):
    """Whoever puts headers in between must not have the last word over what the browser said."""
    own = f"http://127.0.0.1:{server.port}"
    for first, then in ((own, second.replace("8617", str(server.port))), (second, own)):
        origins = f"origin: {first}\r\nOrigin: {then}\r\n"
        asked = f"GET /api/jobs HTTP/1.1\r\nhost: 127.0.0.1:{server.port}\r\n{origins}connection: close\r\n\r\n"
        head, body = raw(server.port, asked.encode())
        assert head.startswith(b"HTTP/1.1 403"), head
        assert json.loads(body)["kind"] == "refused"
    assert server.get("/api/jobs", origin=own).status == 200


def test_every_refusal_is_an_object_of_its_own():
    """One exception shared by all requests kept the frames of each, with all they held."""
    import asyncio

    from ampleroom.web.guard import Refused, whole_body

    async def never():
        raise AssertionError("nothing of such a body is read")

    async def refused():
        scope = {"headers": [(b"content-length", b"999999999999")]}
        with pytest.raises(Refused) as caught:
            await whole_body(scope, never, 1)
        return caught.value

    first, second = asyncio.run(refused()), asyncio.run(refused())
    assert first is not second
    assert (first.status, str(first)) == (second.status, str(second)) == (413, "the request is over 30 MB; send less")


def test_a_form_of_another_page_changes_nothing(app):
    """What a browser sends without asking first: no JSON, and an origin that is not ours."""
    job = app.new()
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"):
        sent = app.ask("POST", f"/api/jobs/{job['id']}/undo", b'{"base": 1}', {"content-type": kind})
        assert sent.status == 400
    assert app.ask("OPTIONS", "/api/jobs", headers={"access-control-request-method": "PUT"}).status == 405


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.7", "example.org", "", "127.0.0.2", "127.1"])
def test_no_other_address_is_served_on(host, tmp_path):
    ran = inside("serve", "--host", host, "--port", "0", "--store", str(tmp_path / "jobs.db"))
    assert (ran.status, ran.out) == (2, "")
    assert "this machine only (127.0.0.1)" in ran.err
    assert "no accounts" in ran.err
    assert not (tmp_path / "jobs.db").exists()


def test_a_port_in_use_and_a_store_that_cannot_be_kept_are_told(server, tmp_path):
    ran = inside("serve", "--port", str(server.port), "--store", str(tmp_path / "jobs.db"))
    assert (ran.status, ran.out) == (2, "")
    assert f"port {server.port} cannot be used" in ran.err
    (tmp_path / "none.db").write_text("no database " * 100)
    ran = inside("serve", "--port", "0", "--store", str(tmp_path / "none.db"))
    assert (ran.status, ran.out) == (2, "")
    assert "jobs cannot be kept in" in ran.err
    for port in ("-1", "65536"):
        assert inside("serve", "--port", port).status == 2


# ---- every answer --------------------------------------------------------------------------------------------------


def test_every_answer_has_the_headers_that_keep_the_page_in_its_place(server):
    job = server.new()
    asked = [
        ("GET", path)
        for path in (
            "/",
            "/index.html",
            "/app.js",
            "/style.css",
            "/icon.svg",
            "/sw.js",
            "/nothing",
            "/api/nothing",
            "/api/hello",
            "/api/openapi.json",
            "/api/jobs",
            "/api/examples",
            f"/api/jobs/{job['id']}",
            "/api/photos/none",
            "/%00",
            "/..",
        )
    ]
    asked += [
        ("POST", "/"),
        ("POST", "/api/hello"),
        ("PATCH", "/api/jobs"),
        ("DELETE", "/"),
        ("HEAD", "/"),
        ("HEAD", "/api/jobs"),
        ("TRACE", "/"),
    ]
    asked += [("POST", f"/api/jobs/{job['id']}/undo"), ("POST", "/api/answer/nothing"), ("POST", "/api/answer/box")]
    statuses = {checked_headers(server.ask(method, path)).status for method, path in asked}
    assert statuses == {200, 400, 404, 405}


def test_an_answer_to_a_failure_of_our_own_tells_nothing_and_has_the_headers(app, monkeypatch, caplog):
    monkeypatch.setattr(app.store, "jobs", lambda *_: 1 / 0)
    failed = checked_headers(app.get("/api/jobs"))
    assert (failed.status, failed.json["kind"]) == (500, "server")
    assert "ZeroDivision" not in failed.body.decode()
    assert "ZeroDivision" in caplog.text


@pytest.mark.parametrize(
    "sent",
    [b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n",
     b"GET / HTTP/1.1\r\nhost: a\r\nhost: b\r\n\r\n",
     b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\ncontent-length: -1\r\n\r\n", b"GET /" + b"a" * 70_000 + b" HTTP/1.1\r\n",
     b"GET / HTTP/1.1\r\nx: " + b"a" * 70_000,
     b"POST / HTTP/1.1\r\nhost: 127.0.0.1\r\ntransfer-encoding: chunked\r\n\r\nzz\r\n"],
    ids=["TLS", "no line", "another HTTP", "two hosts", "less than nothing", "a long line", "long headers",
        "chunks that are none"],
)  # fmt: skip
def test_what_is_no_request_is_refused_with_the_same_headers(server, sent):
    head, body = raw(server.port, sent)
    assert head.startswith((b"HTTP/1.1 400", b"HTTP/1.1 431", b"HTTP/1.1 421"))
    assert b"content-security-policy: default-src 'none'" in head.lower()
    assert json.loads(body)["kind"] in ("refused", "request")
    assert serving(server)


def test_a_websocket_is_not_opened(server):
    head, _ = raw(
        server.port,
        b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\nconnection: Upgrade, close\r\nupgrade: websocket\r\n"
        b"sec-websocket-version: 13\r\nsec-websocket-key: x3JJHMbDL1EzLkh9GBhXDw==\r\n\r\n",
    )
    assert head.startswith(b"HTTP/1.1 200")


def test_a_websocket_of_the_application_is_closed_with_a_reason(app):
    """Should a server before it ever open one all the same."""
    sent = []

    async def asked():
        async def receive():
            return {"type": "websocket.connect"}

        async def send(message):
            sent.append(message)

        await app.app({"type": "websocket", "path": "/", "headers": []}, receive, send)

    app.runner.run(asked())
    assert sent == [{"type": "websocket.close", "code": 1008}]


ONLY = {"/api/hello": "GET", "/api/jobs": "GET POST", "/api/stock": "GET PUT", "/api/answer/check": "POST",
    "/api/jobs/x/edit": "POST",
        "/api/jobs/x/history": "GET", "/api/photos/x": "DELETE GET", "/": "GET"}  # fmt: skip


@pytest.mark.parametrize("path", ONLY)
def test_a_method_an_address_does_not_take_is_refused_with_those_it_takes(app, path):
    for method in (
        "GET",
        "POST",
        "PUT",
        "DELETE",
        "PATCH",
        "OPTIONS",
        "TRACE",
        "CONNECT",
        "PROPFIND",
        "get",
        "X" * 300,
    ):
        if method in ONLY[path].split():
            continue
        refused = checked_headers(app.ask(method, path, b"{}", {"content-type": "application/json"}))
        assert (refused.status, refused.json["kind"]) == (405, "request"), (method, refused)
        assert sorted({*refused.headers["allow"].split(", ")} - {"HEAD"}) == ONLY[path].split()


@pytest.mark.parametrize("name", ["x-http-method-override", "x-http-method", "x-method-override", "x-original-method"])
def test_no_header_and_no_word_in_the_address_changes_the_method(app, name):
    job = app.new()
    for method in ("DELETE", "PUT"):
        assert app.ask("GET", f"/api/jobs/{job['id']}?_method={method}", headers={name: method}).json == job
    assert app.job(job["id"]) == job


@pytest.mark.parametrize(
    "name", ["x-forwarded-host", "x-original-url", "x-rewrite-url", "forwarded", "x-forwarded-proto"]
)
def test_no_header_of_a_server_between_changes_who_asks_or_what(app, name):
    value = "/api/stock" if "url" in name else "127.0.0.1:8617"
    assert app.ask("GET", "/api/hello", headers={"host": "evil.example", name: value}).status == 421
    assert app.ask("GET", "/api/hello", headers={name: value}).json["ampleroom"]


@pytest.mark.parametrize("packed", ["gzip", "deflate", "br", "zstd"])
def test_a_packed_body_is_never_unpacked(app, packed):
    """A few thousand bytes that would be gigabytes: they are no JSON as they are, and that is all that is looked at."""
    import gzip
    import zlib

    data = b'{"sheet": "' + b"#" * 3_000_000 + b'"}'
    body = zlib.compress(data) if packed == "deflate" else gzip.compress(data)
    refused = app.ask("POST", "/api/jobs", body, {"content-type": "application/json", "content-encoding": packed})
    assert (refused.status, refused.json["kind"]) == (400, "request")
    assert app.get("/api/jobs").json["jobs"] == []


TARGETS = [b"GET http://evil.example/api/jobs", b"GET http://127.0.0.1/api/jobs", b"OPTIONS *", b"CONNECT 127.0.0.1:22",
    b"GET api/jobs",
           b"GET //api/jobs", b"GET /api//jobs", b"GET /API/jobs", b"GET /api/jobs/", b"GET ?x"]  # fmt: skip


@pytest.mark.parametrize("target", TARGETS, ids=lambda target: target.decode())
def test_an_address_written_in_another_way_leads_nowhere(server, target):
    head, body = raw(server.port, target + b" HTTP/1.1\r\nhost: 127.0.0.1\r\nconnection: close\r\n\r\n")
    assert head.startswith((b"HTTP/1.1 404", b"HTTP/1.1 405", b"HTTP/1.1 400")), head
    assert b'"jobs"' not in body
    assert serving(server)


def test_a_second_request_hidden_in_a_first_is_held_to_the_same_rules(server):
    """A body with two lengths: what is left over is a request like any other, by its own host."""
    hidden = b"GET /api/jobs HTTP/1.1\r\nhost: evil.example\r\nconnection: close\r\n\r\n"
    head, body = raw(
        server.port,
        b"POST /api/hello HTTP/1.1\r\nhost: 127.0.0.1\r\ntransfer-encoding: chunked\r\ncontent-length: 4\r\n\r\n0\r\n\r\n"  # noqa: E501
        + hidden,
    )
    assert head.startswith((b"HTTP/1.1 400", b"HTTP/1.1 405"))
    assert b'"jobs"' not in body
    assert serving(server)


def raw(port, data, wait=10.0):
    """What comes back for bytes of any kind, up to the end of the connection: head and body."""
    with socket.create_connection(("127.0.0.1", port), timeout=wait) as link:
        link.sendall(data)
        got = b""
        try:
            while piece := link.recv(65536):
                got += piece
        except ConnectionResetError:
            pass
    head, _, body = got.partition(b"\r\n\r\n")
    return head, body


# ---- paths ---------------------------------------------------------------------------------------------------------

PATHS = [
    "/../server.py",
    "/../../../../../../etc/passwd",
    "/%2e%2e/server.py",
    "/%2e%2e%2fserver.py",
    "/..%2fserver.py",
    "/..%5cserver.py",
    "/....//server.py",
    "/%252e%252e/server.py",
    "//etc/passwd",
    "/%2fetc%2fpasswd",
    "/./../engine.py",
    "/static/../server.py",
    "/%00",
    "/index.html%00.js",
    "/..%00/",
    "/" + "a" * 5000,
    "/" + "a/" * 2000,
    "/~root",
    "/C:%5cWindows%5cwin.ini",
    "/.%2e/.%2e/.%2e/pyproject.toml",
    "/\u2025/server.py",
    "/__init__.py",
    "/link.js",
    "/inside/link.html",
]


@pytest.fixture
def pages(tmp_path):
    """A folder of pages beside something that is no page, and links that lead out of it."""
    folder = tmp_path / "pages"
    folder.mkdir()
    (folder / "index.html").write_text("<!doctype html><title>pages</title>")
    (folder / "app.js").write_text("// page")
    (folder / "secret.py").write_text("secret = 1")
    (tmp_path / "server.py").write_text("secret = 1")
    (tmp_path / "secret.js").write_text("secret = 1")
    try:
        (folder / "link.js").symlink_to(tmp_path / "secret.js")
        (folder / "inside").symlink_to(tmp_path)
    except OSError:
        pytest.skip("no links can be made here")
    return folder


@pytest.mark.parametrize("path", PATHS)
def test_no_path_leads_out_of_the_pages(tmp_path, pages, path, caplog):
    from urllib.parse import quote

    from tests.web.helpers import Application

    with Application(tmp_path / "jobs.db", pages=pages) as app:
        assert app.get("/").status == app.get("/app.js").status == 200
        for way in (path, "/api/jobs" + path, "/api/photos" + path):
            answer = checked_headers(app.get(quote(way, safe="/%")))
            assert (answer.status, answer.json["kind"]) == (404, "missing")
        assert "no page" in caplog.text
        assert "\x00" not in caplog.text
        assert app.get("/secret.py").status == app.get("/inside/secret.js").status == 404


@pytest.mark.parametrize("path", PATHS[:14])
def test_no_path_leads_out_of_the_pages_of_a_server_process(server, path):
    """As sent, byte for byte: no library of the asking side puts the path in order before."""
    head, body = raw(
        server.port, b"GET " + path.encode() + b" HTTP/1.1\r\nhost: 127.0.0.1\r\nconnection: close\r\n\r\n"
    )
    assert head.startswith(b"HTTP/1.1 404")
    assert b"root:" not in body
    assert b"import" not in body


def test_a_path_cannot_write_a_line_of_its_own_into_the_log(server):
    assert server.get("/%0d%0a1999-01-01").status == 404
    server.get("/%1b[31mforged")
    server.get("/api/jobs%0d%0a1999-01-01%1b[31m", host="evil.example")
    assert "\n1999" not in server.logged
    assert "\x1b" not in server.logged
    assert "forged" in server.logged
    assert r"refused GET '/api/jobs\r\n1999-01-01\x1b[31m'" in server.logged


# ---- too large -----------------------------------------------------------------------------------------------------

LARGE = 31_000_000


def test_a_body_that_is_too_large_is_refused_with_its_length_told_and_without(server):
    data = json.dumps({"sheet": "#" * LARGE}).encode()
    refused = checked_headers(server.ask("POST", "/api/jobs", data, {"content-type": "application/json"}))
    assert (refused.status, refused.json["error"]) == (413, "the request is over 30 MB; send less")
    link = http.client.HTTPConnection("127.0.0.1", server.port, timeout=60)
    pieces = (b"#" * 1_000_000 for _ in range(31))
    link.request("POST", "/api/jobs", pieces, {"content-type": "application/json"}, encode_chunked=True)
    assert link.getresponse().status == 413
    link.close()
    assert serving(server)
    assert "refused POST '/api/jobs': the request is over 30 MB" in server.logged


def test_a_length_beyond_all_bounds_is_refused_before_anything_is_sent(server):
    head, _ = raw(server.port, b"POST /api/jobs HTTP/1.1\r\nhost: 127.0.0.1\r\ncontent-length: 999999999999\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 413")
    assert serving(server)


def test_a_body_without_end_is_given_up(server):
    with socket.create_connection(("127.0.0.1", server.port), timeout=60) as link:
        link.sendall(b"POST /api/jobs HTTP/1.1\r\nhost: 127.0.0.1\r\ntransfer-encoding: chunked\r\n\r\n")
        piece = b"100000\r\n" + b"#" * 0x100000 + b"\r\n"
        with pytest.raises(OSError, match=r"reset|Broken|abort"):  # noqa: PT012
            for _ in range(200):
                link.sendall(piece)
    assert serving(server)


def test_a_body_as_large_as_a_page_can_have_is_taken(server):
    sheet = SHEET + "# the river\n" * 300_000
    assert server.post("/api/jobs", sheet=sheet).json["sheet"] == sheet


# ---- too slow ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def impatient(tmp_path_factory):
    with Running(tmp_path_factory.mktemp("impatient"), patience=1.5) as found:
        yield found


BEGUN = {
    "says nothing": b"",
    "half a line": b"GET / HT",
    "half its headers": b"POST /api/jobs HTTP/1.1\r\nhost: 127.0.0.1\r\nx-slow: ",
    "half a body": b"POST /api/jobs HTTP/1.1\r\nhost: 127.0.0.1\r\ncontent-type: application/json\r\ncontent-length: 100\r\n\r\n{",  # noqa: E501
    "half a chunk": b"POST /api/jobs HTTP/1.1\r\nhost: 127.0.0.1\r\ntransfer-encoding: chunked\r\n\r\n5\r\n{",
    "half a second request": b"GET /api/hello HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\nGET /api",
}


@pytest.mark.parametrize("begun", BEGUN)
def test_a_client_that_does_not_go_on_is_cut_off(impatient, begun):
    began = time.monotonic()
    head, _ = raw(impatient.port, BEGUN[begun], wait=30)
    assert time.monotonic() - began > 1  # it was waited for
    assert b" 408 " in head if "second" not in begun else head.startswith(b"HTTP/1.1 200")
    assert b"content-security-policy" in head.lower()
    assert "too slowly" in impatient.logged
    assert serving(impatient)


@pytest.mark.parametrize("begun", ["half its headers", "half a body"])
def test_a_client_that_drips_is_cut_off(impatient, begun):
    """One letter again and again never begins the wait anew."""
    with socket.create_connection(("127.0.0.1", impatient.port), timeout=30) as link:
        link.sendall(BEGUN[begun])
        with pytest.raises(OSError, match=r"reset|Broken|abort"):  # noqa: PT012
            for _ in range(150):
                time.sleep(0.1)
                link.sendall(b"a")
    assert serving(impatient)


def test_a_client_that_does_not_take_its_answer_is_cut_off(impatient):
    sheet = SHEET + "# the river\n" * 320_000
    job = impatient.post("/api/jobs", sheet=sheet).json
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as link:
        link.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        link.settimeout(30)
        link.connect(("127.0.0.1", impatient.port))
        for _ in range(8):
            link.sendall(f"GET /api/jobs/{job['id']} HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n".encode())
        for _ in range(100):
            if "the answer was not taken" in impatient.logged:
                break
            time.sleep(0.1)
        assert "the answer was not taken" in impatient.logged
    assert serving(impatient)


def test_others_are_served_while_many_are_slow(impatient):
    """As many slow ones as a browser would never open; each question beside them is answered."""
    slow = [socket.create_connection(("127.0.0.1", impatient.port), timeout=30) for _ in range(120)]
    try:
        for number, link in enumerate(slow):
            link.sendall(list(BEGUN.values())[number % len(BEGUN)])
        job = impatient.new()
        for version in range(1, 6):
            saved = impatient.put(f"/api/jobs/{job['id']}", base=version, sheet=f"{version}\n")
            assert saved.json["version"] == version + 1
        assert impatient.get("/").status == 200
    finally:
        for link in slow:
            link.close()


def test_past_the_most_connections_the_rest_are_told_and_then_served_again(impatient):
    idle = [socket.create_connection(("127.0.0.1", impatient.port), timeout=30) for _ in range(210)]
    try:
        refused = [impatient.get("/api/hello") for _ in range(3)]
        assert {answer.status for answer in refused} <= {503, 200}
        assert 503 in {checked_headers(answer).status for answer in refused}
    finally:
        for link in idle:
            link.close()
    for _ in range(50):
        if impatient.get("/api/hello").status == 200:
            break
        time.sleep(0.1)
    assert serving(impatient)


def test_the_server_ends_at_once_though_somebody_is_slow(tmp_path):
    import signal

    with Running(tmp_path) as server, socket.create_connection(("127.0.0.1", server.port)) as link:
        link.sendall(BEGUN["half a body"])
        assert serving(server)
        server.stop(signal.SIGTERM)  # within its wait, or this fails


@pytest.mark.parametrize("patience", ["soon", "1,5"])
def test_a_patience_that_is_no_number_is_told(monkeypatch, tmp_path, patience):
    monkeypatch.setenv("AMPLEROOM_PATIENCE", patience)
    ran = inside("serve", "--port", "0", "--store", str(tmp_path / "jobs.db"))
    assert (ran.status, ran.out) == (2, "")
    assert "AMPLEROOM_PATIENCE is a number of seconds" in ran.err
