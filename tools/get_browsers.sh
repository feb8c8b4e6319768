#!/bin/sh
# Chromium and Firefox for the tests of pages, from Debian's packages; quiet when they are there.
# Chromium without the windows of a desktop is taken where it can be had: tests/chromium.py says why.
set -eu
missing=""
command -v chromium-headless-shell >/dev/null 2>&1 || missing="chromium-headless-shell"
command -v firefox-esr >/dev/null 2>&1 || command -v firefox >/dev/null 2>&1 || missing="$missing firefox-esr"
[ -z "$missing" ] && exit 0
chromium() { command -v chromium >/dev/null 2>&1 || command -v chromium-browser >/dev/null 2>&1; }
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq >/dev/null || true
  for package in $missing; do
    echo "installing for the page tests: $package"
    apt-get install -y -qq --no-install-recommends "$package" >/dev/null && continue
    # Not every release has the shell.
    [ "$package" = chromium-headless-shell ] || exit 1
    chromium || apt-get install -y -qq --no-install-recommends chromium >/dev/null
  done
else
  chromium && missing="${missing#chromium-headless-shell}"
  [ -z "$missing" ] ||
    echo "page tests will be skipped; to run them install: $missing (Debian: apt install $missing)" >&2
fi
