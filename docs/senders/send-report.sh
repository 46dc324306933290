#!/bin/sh
# Sends what a station measured to StationFleet, and keeps it until the server has it. POSIX shell, curl, awk.
#
#   printf 'tank/fill / 0.41\nbattery/voltage V 12.7\n' | send-report.sh
#
# Each line is: name, unit, value. From a terminal it only sends what waits. Let cron call it, say every 15 minutes.
# A report is a file in the spool until it is answered; after MOST files the oldest give way.
#
#   STATION_URL   the server, such as https://stations.example
#   STATION_CODE  the station's code, such as COP-1
#   STATION_KEY   its key; better in a file that only this program may read, named by STATION_KEY_FILE
#   SPOOL         where unsent reports wait (default /var/spool/station)
#   MOST          how many wait at most (default 1000: ten days of a report every 15 minutes)
#   TRIES         how often to try one report before giving up until the next call (default 5)
set -eu
umask 077
: "${STATION_URL:?}" "${STATION_CODE:?}"
SPOOL=${SPOOL:-/var/spool/station}
MOST=${MOST:-1000}
TRIES=${TRIES:-5}
mkdir -p "$SPOOL"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# curl reads the key from a file: on its command line every user of the machine could see it.
printf 'header = "Authorization: Bearer %s"\n' "${STATION_KEY:-$(cat "${STATION_KEY_FILE:?}")}" > "$work/key"

# Seconds since 1970. A clock that was never set (before 2024) asks the server.
now() {
    t=$(date +%s)
    if [ "$t" -lt 1704067200 ]; then
        t=$(curl -sS --max-time 30 "$STATION_URL/api/v1/time" | sed -n 's/.*"time":\([0-9]*\).*/\1/p')
    fi
    [ -n "$t" ] && echo "$t"
}

# So many seconds, give or take a third, so that a fleet does not come back all at once.
wait_about() {
    r=$(od -An -N2 -tu2 /dev/urandom | tr -d ' ')
    sleep "$(awk -v s="$1" -v r="$r" 'BEGIN { printf "%d", s * (2 + 2 * r / 65536) / 3 + 0.5 }')"
}

keep() {
    t=$(now) || { echo "No time: neither the clock nor the server tells it." >&2; exit 1; }
    awk -v code="$STATION_CODE" -v t="$t" '
        NF == 3 { printf "%s{%s\"n\":\"%s\",\"u\":\"%s\",\"v\":%s}", any ? "," : "[", any ? "" : "\"bn\":\"" code "/\",\"bt\":" t ",", $1, $2, $3; any = 1 }
        END { if (any) print "]" }' > "$work/pack"
    [ -s "$work/pack" ] || return 0
    mv "$work/pack" "$SPOOL/$t-$$.json"
    ls "$SPOOL" | grep '\.json$' | sort -r | tail -n +$((MOST + 1)) | while read -r old; do rm -f "$SPOOL/$old"; done
}

# Sends one file. 0: it is done with; 1: it must wait.
send() {
    try=1
    pause=30
    while :; do
        status=$(curl -sS --max-time 60 -K "$work/key" -H 'Content-Type: application/senml+json' --data-binary "@$1" \
            -D "$work/head" -o "$work/answer" -w '%{http_code}' "$STATION_URL/api/v1/reports" 2>"$work/error") || status=000
        case $status in
            200 | 422) return 0 ;;                  # on disk; of 422 nothing counts, but it is kept
            401) echo "The key is not valid; reports wait for a new one." >&2; return 1 ;;
            408 | 425 | 429) ;;                     # not now
            4*) echo "Dropped, answered with $status: $(cat "$work/answer")" >&2; return 0 ;;
            *) ;;                                   # 5xx, or no answer
        esac
        [ "$try" -ge "$TRIES" ] && { echo "Not sent ($status $(cat "$work/error")); it waits." >&2; return 1; }
        after=$(tr -d '\r' < "$work/head" 2>/dev/null | sed -n 's/^[Rr]etry-[Aa]fter: *\([0-9][0-9]*\)$/\1/p' | tail -1)
        if [ -n "$after" ]; then sleep "$after"; else wait_about "$pause"; fi
        pause=$((pause * 2 > 900 ? 900 : pause * 2))
        try=$((try + 1))
    done
}

[ -t 0 ] || keep

# One sends, the others only keep. A lock of an hour ago belongs to a run that was killed.
[ -z "$(find "$SPOOL/lock" -maxdepth 0 -mmin +60 2>/dev/null)" ] || rmdir "$SPOOL/lock"
mkdir "$SPOOL/lock" 2>/dev/null || exit 0
trap 'rm -rf "$work" "$SPOOL/lock"' EXIT
for file in "$SPOOL"/*.json; do
    [ -e "$file" ] || break
    send "$file" || exit 1
    rm -f "$file"
done
