# Sends what a station measures to StationFleet: for MicroPython with its library "requests" (urequests).
#
#     sender = Sender("https://stations.example", "COP-1", KEY)
#     while True:
#         if it_is_time_to_measure():           # every 15 minutes, say
#             sender.measure("tank/fill", "/", read_fill())
#             sender.measure("battery/voltage", "V", read_volts())
#             sender.pack()
#         sender.send()                         # never waits: after a failure it does nothing until its pause is over
#         time.sleep(10)
#
# Unsent reports wait in a ring: when it is full the oldest gives way. Keep sender.waiting in flash if the controller may restart.
import json
import os
import time

try:
    import urequests as requests
except ImportError:
    import requests

# Some ports count from 2000 instead of 1970.
EPOCH = 946684800 if time.gmtime(0)[0] == 2000 else 0
UNSET = 1704067200  # a clock before 2024 was never set


class Sender:
    MOST_WAITING = 200
    FIRST_PAUSE = 30
    LONGEST_PAUSE = 900
    KEY_PAUSE = 3600

    def __init__(self, url, code, key):
        self.url = url
        self.code = code
        self.key = key
        self.waiting = []
        self.records = []
        self.offset = None  # from this controller's clock to the server's; None until it is asked for
        self.pause = self.FIRST_PAUSE
        self.not_before = None

    def now(self):
        """Seconds since 1970, by the server's clock when this controller has none; None when nobody tells."""
        own = int(time.time()) + EPOCH
        if own >= UNSET:
            return own
        if self.offset is None:
            try:
                answer = requests.request("GET", self.url + "/api/v1/time")
                text = answer.text
                answer.close()
                # Not by json: a port with 32-bit floats would be wrong by a minute.
                digits = text[text.index('"time":') + 7 :]
                self.offset = int(digits[: min(digits.index(end) for end in ".,}" if end in digits)]) - own
            except (OSError, ValueError):
                return None
        return own + self.offset

    def measure(self, name, unit, value):
        """Notes a value for the next report. Without any time it is lost: nobody could say when it was."""
        at = self.now()
        if at is not None:
            self.records.append({"n": name, "u": unit, "t": at, "v": value})

    def pack(self):
        """Makes a report of what was noted. It is kept as bytes: to send the same bytes again is harmless."""
        if self.records:
            self.records[0]["bn"] = self.code + "/"
            self.waiting = (self.waiting + [json.dumps(self.records).encode()])[-self.MOST_WAITING :]
            self.records = []

    def send(self):
        """Sends what waits, oldest first; True when nothing waits any more."""
        while self.waiting:
            if self.must_pause():
                return False
            status, retry_after = self.post(self.waiting[0])
            if status in (200, 422):  # on disk; of 422 nothing counts, but it is kept
                self.pause = self.FIRST_PAUSE
                self.waiting.pop(0)
            elif 400 <= status < 500 and status not in (401, 408, 425, 429):
                print("dropped, answered with", status)
                self.waiting.pop(0)
            else:
                self.put_off(status, retry_after)
                return False
        return True

    def must_pause(self):
        # A clock that was set in between must not make the pause endless.
        return self.not_before is not None and 0 < self.not_before - time.time() <= self.KEY_PAUSE * 2

    def put_off(self, status, retry_after):
        if status == 401:  # the key was revoked or is wrong; the report is not at fault
            wait = self.jitter(self.KEY_PAUSE)
        elif retry_after:
            wait = retry_after
        else:
            wait = self.jitter(self.pause)
            self.pause = min(2 * self.pause, self.LONGEST_PAUSE)
        self.not_before = time.time() + wait

    def post(self, pack):
        """Status and Retry-After in seconds; status 0 when there was no answer."""
        headers = {"Authorization": "Bearer " + self.key, "Content-Type": "application/senml+json"}
        try:
            answer = requests.request("POST", self.url + "/api/v1/reports", data=pack, headers=headers)
        except OSError:
            return 0, None
        try:
            after = None
            for name, value in (getattr(answer, "headers", None) or {}).items():
                if name.lower() == "retry-after" and value.isdigit():
                    after = int(value)
            if answer.status_code >= 400:
                print(answer.text)
            return answer.status_code, after
        finally:
            answer.close()

    @staticmethod
    def jitter(seconds):
        """Give or take a third, so that a fleet does not come back all at once."""
        return seconds * (2 + 2 * os.urandom(1)[0] / 255) / 3
