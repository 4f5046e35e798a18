#!/bin/sh
# Takes real camera clips out of Debian packages for the video tests.
# Needs no root. Without Debian's archive it says so and ends well: the tests then say "SKIPPED".
# usage: tests/fetch-real-clips.sh [FOLDER]   (default: where the tests look)
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
folder=${1:-${CARGO_TARGET_DIR:-$root/target}/tmp/real}
mkdir -p "$folder"
skip() { echo "real clips SKIPPED: $1"; exit 0; }
missing=0
for clip in VID_20191220_170832.mp4 movie-hello.mp4 movie-hello.avi movie-hello.mpeg \
    movie-hello.ogg box.mp4 cup.mp4 vtest.avi; do
    [ -s "$folder/$clip" ] || missing=1
done
[ "$missing" = 1 ] || { echo "real clips: all there, in $folder"; exit 0; }
command -v apt-get >/dev/null && command -v dpkg-deb >/dev/null || skip "this is no Debian system"

work=$(mktemp -d "$folder/unpacking.XXXXXX")
trap 'rm -rf "$work"' EXIT
# forensics-samples-files: CC-BY-SA-4.0; opencv-doc (96 MB): Apache-2.0 and BSD-3-Clause.
for package in forensics-samples-files opencv-doc; do
    echo "real clips: fetching $package"
    (cd "$work" && apt-get download "$package" >/dev/null 2>&1) ||
        skip "cannot download $package; try 'sudo apt-get update' first"
    mkdir "$work/$package"
    # Only the wanted files are unpacked.
    dpkg-deb --fsys-tarfile "$work/$package"_*.deb | tar -x -C "$work/$package" --wildcards \
        --no-anchored 'VID_20191220_170832.mp4' 'movie-hello.*' 'box.mp4.gz' 'cup.mp4.gz' \
        'vtest.avi' 2>/dev/null || true
    rm -f "$work/$package"_*.deb
done
find "$work" -name '*.gz' -exec gunzip {} +
find "$work" -type f -exec mv -f {} "$folder/" \;
echo "real clips: in $folder"
