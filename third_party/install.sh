#!/bin/sh
# Installs what is missing of what Evenclose is built with, tested with and shown with, from the distribution
# (Debian 12 names). Needs root or sudo only when something is missing.
#
#   sh third_party/install.sh          to build and run
#   sh third_party/install.sh tests    also what the tests need
#   sh third_party/install.sh tools    and what lint.sh, coverage.sh and the fuzzers need
set -eu

build="g++ cmake ninja-build ccache pkg-config"
libraries="libglm-dev libfmt-dev libspdlog-dev nlohmann-json3-dev libvalijson-dev libcli11-dev libassimp-dev
  libtinyobjloader-dev libminizip-dev libpugixml-dev libtbb-dev libfcl-dev libeigen3-dev libimgui-dev libglfw3-dev libepoxy-dev libstb-dev
  libegl-dev libgl-dev libembree-dev doctest-dev libmd-dev libseccomp-dev libocct-data-exchange-dev
  libcairo2-dev libpango1.0-dev librsvg2-dev libglu1-mesa-dev libwebp-dev libglib2.0-dev"
run="libegl1 libegl-mesa0 libgl1 libgl1-mesa-dri fonts-open-sans"
tests="xvfb xauth xdotool x11-utils x11-xkb-utils imagemagick assimp-testmodels libcgal-dev poppler-utils
  desktop-file-utils shared-mime-info mandoc dbus-daemon"
tools="clang clang-tidy cppcheck gcovr"

wanted="$build $libraries $run"
case "${1:-}" in
tests) wanted="$wanted $tests" ;;
tools) wanted="$wanted $tests $tools" ;;
esac

missing=""
for package in $wanted; do
  dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

as_root=""
if [ "$(id -u)" -ne 0 ]; then
  if command -v sudo >/dev/null 2>&1; then
    as_root=sudo
  else
    echo "Evenclose needs these packages, and this user may not install them:$missing" >&2
    echo "As root: apt-get install$missing" >&2
    exit 1
  fi
fi
echo "installing:$missing" >&2
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -qq
# shellcheck disable=SC2086  # a list of words on purpose
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >&2
