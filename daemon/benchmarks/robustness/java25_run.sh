#!/usr/bin/env bash
# The same results on Java 17 and 25: records a demo under each and replays both recordings under each, letter for letter.
# Needs a JDK 25 in JAVA25_HOME or under /usr/lib/jvm, and a JDK 17 or later as the usual java.
#   java25_run.sh [SECONDS]   how long each demo records; 30 by default
set -eu

root=$(cd "$(dirname "$(readlink -f "$0")")/../../.." && pwd)
seconds=${1:-30}
java25=$("$root/daemon/benchmarks/robustness/find_java25.sh") || {
    echo "java25_run: no JDK 25 found; set JAVA25_HOME" >&2
    exit 1
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# The command of a program under one of the two; no function of its own, so that what is started in the background can be ended.
program() {
    if [ "$1" = 25 ]; then prefix=(env "JAVA_HOME=$java25"); else prefix=(env); fi
}

record() {
    local which=$1 pid
    program "$which"
    "${prefix[@]}" "$root/heldmark" demo --port 0 --no-browser --data "$work/$which" >"$work/$which.out" 2>&1 &
    pid=$!
    for _ in $(seq 600); do
        grep -q 'viewer: http' "$work/$which.out" && break
        kill -0 "$pid" 2>/dev/null || break
        sleep 0.2
    done
    sleep "$seconds"
    kill -TERM "$pid"
    wait "$pid" || true
    find "$work/$which" -name '*.pcapng'
}

bad=0
echo "| recorded on | replayed on | results | same letters |"
echo "|---|---|---|---|"
for which in usual 25; do
    recording=$(record "$which")
    for on in usual 25; do
        program "$on"
        "${prefix[@]}" "$root/heldmark" replay "$recording" --json >"$work/$which-$on.jsonl"
    done
    results=$(grep -c '"revision":"final"' "$work/$which-usual.jsonl" || true)
    same=yes
    cmp -s "$work/$which-usual.jsonl" "$work/$which-25.jsonl" || same=NO
    [ "$same" = yes ] && [ "$results" -gt 0 ] || bad=1
    echo "| $which | usual and 25 | $results contractions, $(wc -l <"$work/$which-25.jsonl") lines | $same |"
done
exit "$bad"
