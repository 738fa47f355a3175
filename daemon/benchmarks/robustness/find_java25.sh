#!/usr/bin/env bash
# Prints the home of a JDK 25: JAVA25_HOME, or one in the usual place; exit 1 where there is none.
for home in "${JAVA25_HOME:-}" /usr/lib/jvm/*25*; do
    if [ -n "$home" ] && [ -x "$home/bin/java" ] && "$home/bin/java" -version 2>&1 | grep -q 'version "25'; then
        echo "$home"
        exit 0
    fi
done
exit 1
