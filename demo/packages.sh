# shellcheck shell=bash
# SPDX-License-Identifier: MIT
# install_missing: installs what is missing, from Debian's packages (12 or 13; as root or with sudo) and the npm
# registry (as locked). Where nothing is missing it ends at once. Sourced after demo/steps.sh.

packages_to_serve=(g++ cmake ninja-build pkg-config git ca-certificates tzdata zlib1g-dev libssl-dev libsodium-dev libqrcodegencpp-dev nlohmann-json3-dev libsqlitecpp-dev
  libceres-dev libeigen3-dev libhowardhinnant-date-dev libspdlog-dev libcli11-dev liblemon-dev libical-dev libcurl4-openssl-dev)
packages_to_test=(catch2 curl clang libclang-rt-dev clang-format clang-tidy chromium-headless-shell fonts-dejavu-core
  coinor-cbc glpk-utils)

package_is_installed() { [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]; }

boost_is_new_enough() { # 1.81 brings Boost.URL; a runtime of 1.74 may stand beside it
  local version
  version=$(sed -n 's/^#define BOOST_VERSION \([0-9]*\).*/\1/p' /usr/include/boost/version.hpp 2>/dev/null) || return 1
  [ -n "$version" ] && ((version >= 108100))
}

boost_package() { # what this Debian calls it
  local name
  for name in libboost1.81-dev libboost1.83-dev libboost-dev; do
    [[ $(LC_ALL=C apt-cache policy "$name" 2>/dev/null) == *"Candidate: "[0-9]* ]] && echo "$name" && return
  done
  return 1
}

as_root() {
  if [ "$(id -u)" = 0 ]; then env DEBIAN_FRONTEND=noninteractive "$@"; else sudo env DEBIAN_FRONTEND=noninteractive "$@"; fi
}

install_packages() { # PACKAGE...
  local names="$*" boost
  command -v apt-get >/dev/null || fail "these are missing and there is no apt-get to install them: $names"
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null || fail "these are missing: $names; run this once as root, or install sudo"
    sudo -v || fail "sudo was refused; these are missing: $names"
  fi
  step "Debian's lists of packages" as_root apt-get update -q
  if [[ " $names " == *" boost "* ]]; then
    boost=$(boost_package) || fail "this Debian offers no Boost of 1.81 or newer"
    set -- "${@/#boost/$boost}"
  fi
  local options=(-q -y --no-install-recommends)
  [ "${CI:-}" != true ] || options+=(-o Dpkg::Options::=--force-unsafe-io) # a machine that is thrown away need not survive a power cut
  step "installing $# Debian packages and what they need" as_root apt-get install "${options[@]}" "$@"
  boost_is_new_enough || fail "Boost 1.81 or newer is needed; /usr/include/boost is older"
}

install_npm_packages() {
  local lock=$root/web/package-lock.json installed=$root/web/node_modules/.lock-installed wanted
  [ -f "$lock" ] || return 0
  wanted=$(sha256sum "$lock" | cut -d' ' -f1)
  [ "$(cat "$installed" 2>/dev/null)" != "$wanted" ] || return 0
  npm_ci() { cd "$root/web" && npm ci --no-audit --no-fund; }
  step "the pages' npm packages, as locked" npm_ci
  echo "$wanted" >"$installed"
}

install_missing() { # serve|test
  local package missing=() node_major wanted=("${packages_to_serve[@]}")
  [ "$1" = serve ] || wanted+=("${packages_to_test[@]}")
  for package in "${wanted[@]}"; do package_is_installed "$package" || missing+=("$package"); done
  boost_is_new_enough || missing+=(boost)
  command -v node >/dev/null || missing+=(nodejs)
  command -v npm >/dev/null || missing+=(npm) # a Node from elsewhere brings its own
  ((${#missing[@]} == 0)) || install_packages "${missing[@]}"
  node_major=$(node --version | sed 's/^v\([0-9]*\).*/\1/')
  ((node_major >= 18)) || fail "Node 18 or newer is needed; this machine has $(node --version)"
  install_npm_packages
}
