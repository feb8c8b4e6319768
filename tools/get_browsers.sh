#!/bin/sh
# Chromium and Firefox for the tests of pages, from Debian's packages; quiet when they are there.
set -eu
missing=""
command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1 || missing="chromium"
command -v firefox-esr >/dev/null 2>&1 || command -v firefox >/dev/null 2>&1 || missing="$missing firefox-esr"
[ -z "$missing" ] && exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  echo "installing for the page tests: $missing"
  apt-get update -qq >/dev/null
  # shellcheck disable=SC2086
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
else
  echo "page tests will be skipped; to run them install: $missing (Debian: apt install $missing)" >&2
fi
