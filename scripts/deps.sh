#!/bin/sh
# Installs what cargo cannot: FFmpeg's libraries and program, a C parser for its bindings, and
# what the window tests need. Does nothing when all of it is there.
set -eu

packages="
    pkg-config clang libclang-dev
    libavcodec-dev libavformat-dev libavutil-dev
    ffmpeg
    libvulkan1 mesa-vulkan-drivers
    libxkbcommon-x11-0
    xvfb xdotool
"

if ! command -v dpkg-query >/dev/null; then
    if command -v ffmpeg >/dev/null && pkg-config --exists libavformat 2>/dev/null; then
        exit 0
    fi
    echo "Stillcall needs FFmpeg with its libraries, pkg-config and clang. Install them with" >&2
    case "$(uname -s)" in
        Darwin) echo "    brew install ffmpeg pkgconf llvm" >&2 ;;
        *) echo "    dnf install ffmpeg-free ffmpeg-free-devel clang-devel pkgconf mesa-vulkan-drivers \\
        xorg-x11-server-Xvfb xdotool" >&2 ;;
    esac
    exit 1
fi

missing=
for package in $packages; do
    status=$(dpkg-query --show --showformat='${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$status" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

echo "Installing what decoding, drawing and the window tests need:$missing"
as_root=
[ "$(id -u)" = 0 ] || as_root=sudo
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -qq
# shellcheck disable=SC2086 # the list is meant to be split
$as_root apt-get install -y -qq --no-install-recommends $missing
