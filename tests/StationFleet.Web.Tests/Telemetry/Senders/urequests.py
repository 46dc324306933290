"""What MicroPython's library does, for CPython: as much as docs/senders/station.py asks of it."""
import json
import urllib.error
import urllib.request


class Response:
    def __init__(self, status, headers, body):
        self.status_code = status
        self.headers = dict(headers)
        self.text = body.decode()

    def json(self):
        return json.loads(self.text)

    def close(self):
        pass


def request(method, url, data=None, headers={}):
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    try:
        with opener.open(urllib.request.Request(url, data=data, headers=headers, method=method)) as answer:
            return Response(answer.status, answer.headers.items(), answer.read())
    except urllib.error.HTTPError as refusal:
        return Response(refusal.code, refusal.headers.items(), refusal.read())
    except urllib.error.URLError as failure:
        raise OSError(failure)
