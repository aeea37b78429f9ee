#!/bin/sh
# Make the virtual environment from the locked versions. Debian ships python3 without venv: ask its package manager
# for that one package where it is missing.
set -eu

if [ -z "${PYTHON:-}" ]; then
  echo "Python 3.11 or newer is needed: on Debian, apt-get install python3 python3-venv" >&2
  exit 1
fi
if ! "$PYTHON" -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
  echo "$PYTHON is older than Python 3.11" >&2
  exit 1
fi

if ! "$PYTHON" -c 'import venv, ensurepip' 2>/dev/null; then
  echo "Installing python3-venv from Debian's packages"
  as_root=""
  [ "$(id -u)" -eq 0 ] || as_root="sudo"
  $as_root apt-get update -qq
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends python3-venv
fi

[ -x "$VENV/bin/python" ] || "$PYTHON" -m venv "$VENV"
"$VENV/bin/python" -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
"$VENV/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
# Bytecode ahead of time: the first command a person runs should be as quick as the second.
"$VENV/bin/python" -m compileall -q "$VENV/lib" src >/dev/null 2>&1 || true
