# Shared by scripts/demo and scripts/test: steps that say their seconds and stop at the first failure.
set -euo pipefail
ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$ROOT"
JOBS=$(nproc)
START=$SECONDS
# the folder may move between runs: let the compiler cache see the same paths
export CCACHE_BASEDIR="$ROOT" CCACHE_NOHASHDIR=1

step() { # step "what" command...
  local what=$1 begin=$SECONDS
  shift
  echo "== $what"
  if ! "$@"; then
    echo "!! failed: $what ($*)" >&2
    exit 1
  fi
  echo "-- $what: $((SECONDS - begin)) s"
}

as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }

node_missing() { # packages of node and npm, where the PATH has none
  command -v node >/dev/null || command -v nodejs >/dev/null || echo nodejs
  command -v npm >/dev/null || echo npm
}

install_packages() { # install_packages LISTFILE...
  local missing=() name
  for name in $(cat "$@") $(node_missing); do
    dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q "install ok installed" || missing+=("$name")
  done
  if [ ${#missing[@]} -eq 0 ]; then
    echo "all packages are there"
    return
  fi
  echo "installing: ${missing[*]}"
  as_root apt-get update -q
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}
