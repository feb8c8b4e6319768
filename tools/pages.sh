#!/bin/sh
# The browser's modules: 'check' their format, lint and types, or 'format' them. For maintainers:
# nobody who runs Axletree needs Node. It goes into .venv from requirements-node.lock, the tools from
# tools/js/package-lock.json, each by its hash. Where they can't be had the check is left out, and
# that is said; not so in CI.
set -eu
cd "$(dirname "$0")/.."
here=$PWD/.venv
PATH=$here/bin:$PATH
modules="src/axletree/app/static src/axletree/tell/field_sheet/static"

left_out() {
  echo "the check of the browser's modules was left out: $1" >&2
  [ -z "${CI:-}" ] || exit 1
  exit 0
}

if ! cmp -s tools/js/package-lock.json "$here/js/package-lock.json" || [ ! -e "$here/js/.made" ]; then
  echo "set-up: installing the checks of the browser's modules, each package checked by its hash"
  if [ ! -x "$here/bin/npm" ]; then
    "$here/bin/python" -m pip install -qq --disable-pip-version-check --only-binary :all: \
      --require-hashes -r requirements-node.lock || left_out "Node could not be installed here"
  fi
  rm -rf "$here/js"
  mkdir -p "$here/js"
  cp tools/js/package.json tools/js/package-lock.json tools/js/.npmrc "$here/js/"
  (cd "$here/js" && npm ci --silent) || left_out "its tools could not be installed"
  touch "$here/js/.made"
fi

biome() {
  way=$1
  shift
  # shellcheck disable=SC2086
  "$here/js/node_modules/.bin/biome" "$way" --colors=off --config-path tools/js "$@" $modules
}
case ${1:-check} in
  format) biome format --write ;;
  lint) biome lint --error-on-warnings ;;
  check)
    biome ci --error-on-warnings
    "$here/js/node_modules/.bin/tsc" -p tools/js/jsconfig.json
    ;;
  *) echo "tools/pages.sh check | lint | format" >&2; exit 2 ;;
esac
