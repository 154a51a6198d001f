"""Who may ask the desk, and who is refused; each answer is printed."""

import http.client
import json

from desk import Room


def refused(room: Room) -> None:
    with room.desk("copybook") as desk:
        outside = room.folder.parent / "secret.toml"
        outside.write_text('title = "hush"\n')
        (room.folder / "link.toml").symlink_to(outside)
        host = f"127.0.0.1:{desk.port}"

        def ask(words: str, expected: set[int], method="GET", path="/api/lessons", host=host, body=None, **headers) -> bytes:
            connection = http.client.HTTPConnection("127.0.0.1", desk.port, timeout=20)
            connection.putrequest(method, path, skip_host=True)
            if host:
                connection.putheader("Host", host)
            for name, value in headers.items():
                connection.putheader(name.replace("_", "-"), value)
            data = json.dumps(body).encode() if body is not None else b""
            connection.putheader("Content-Length", str(len(data)))
            connection.endheaders()
            try:
                connection.send(data)
            except (BrokenPipeError, ConnectionResetError):
                pass
            answer = connection.getresponse()
            said = answer.read()
            print(f"    {answer.status}  {words}")
            assert answer.status in expected, (words, answer.status, said)
            assert "default-src 'none'" in answer.headers["content-security-policy"]
            assert b"hush" not in said, words
            connection.close()
            return said

        auth = {"x_desk_token": desk.token}
        assert b"copybook.toml" in ask("with the token", {200}, **auth)
        ask("without the token", {401})
        ask("another token", {401}, x_desk_token="0" * 32)
        ask("another host's name", {421}, host=f"lessons.example:{desk.port}", **auth)
        ask("no host at all", {400, 421}, host=None, **auth)
        ask("another origin", {403}, origin="http://lessons.example", **auth)
        ask("another port's origin", {403}, origin="http://127.0.0.1:1", **auth)
        ask("an origin without a name", {403}, origin="null", **auth)
        ask("our own origin", {200}, origin=f"http://{host}", **auth)
        for name in ("../secret.toml", "..%2Fsecret.toml", "%2e%2e/secret.toml", "/etc/passwd", "link.toml", "a%00.toml"):
            ask(f"the file {name}", {403, 404}, path=f"/api/lesson?file={name}", **auth)
        ask("a page's file with ..", {400, 404}, path="/../Cargo.toml")
        ask("a page's file that isn't", {404}, path="/secret.toml")
        ask("writing outside", {403}, "PUT", "/api/lesson", body={"file": "../new.toml", "text": "x", "version": None}, **auth)
        assert not (room.folder.parent / "new.toml").exists()
        ask("a link's target", {403}, "PUT", "/api/lesson", body={"file": "link.toml", "text": "x", "version": ""}, **auth)
        assert outside.read_text() == 'title = "hush"\n'
        text = 'title = "x"\n[changes]\nlead_sheet = "../secret.toml"\n'
        assert b"outside of this folder" in ask("a lead sheet outside", {200}, "POST", "/api/look", body={"file": "x.toml", "text": text}, **auth)
        ask("10 MB", {413}, "POST", "/api/look", body={"file": "x.toml", "text": "x" * 10_000_000}, **auth)
        ask("no JSON", {400}, "POST", "/api/look", body=None, **auth)
        ask("still there", {200}, **auth)


CHECKS = [refused]
