# shellcheck shell=bash
# What every stage shares: places, words, and how something is fetched; to be sourced.

apk=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$apk/../.." && pwd)
out=$root/target/apk # ignored by git; everything made or fetched lies here, in ~/.m2 or in ~/.cargo
. "$apk/versions.sh"
cd "$root" || exit
. tests/setup.sh # stop, install_packages

# The tools of an Android SDK where a person has one, else Debian's.
[ -z "${ANDROID_HOME:-}" ] || PATH=$(find "$ANDROID_HOME/build-tools" -mindepth 1 -maxdepth 1 | sort -V | tail -n 1):$PATH

library=libshimwright_ffi.so
triple=aarch64-linux-android
abi=arm64-v8a

say() { printf '   %s\n' "$*"; }

# How many bytes a file has, and its bar in bytes. A bar that is missed is told, as in the other tables of figures.
weigh() {
  local bytes
  bytes=$(stat -c %s "$1")
  say "$(basename "$1"): $bytes bytes (bar $2$([ "$bytes" -le "$2" ] || echo ": MISSED"))"
}

# Fetches GROUP:NAME:VERSION[:TYPE] through Maven and prints where it lies.
artifact() {
  local IFS=: folder=$out/jars file
  # shellcheck disable=SC2086
  set -- $1
  file=$folder/$2-$3.${4:-jar}
  [ -e "$file" ] || mvn -q -B -ntp "$maven_dependency_plugin:copy" "-Dartifact=$1:$2:$3:${4:-jar}" \
    "-DoutputDirectory=$folder" >&2 || stop "Maven could not fetch $1:$2:$3 (${5:-it is on Maven Central})."
  echo "$file"
}
