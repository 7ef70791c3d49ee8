# Set-up shared by demo/run and tests/run; to be sourced. Installs what is missing where it may,
# else says what to install and stops.

# The oldest Rust the workspace builds with (rust-version in Cargo.toml).
rust_needed=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' Cargo.toml)

stop() {
  printf '%s\n' "$@" >&2
  exit 1
}

# Debian packages by name; with sudo where we are not root.
install_packages() {
  command -v apt-get >/dev/null || stop "Please install these yourself (no apt-get here): $*"
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || stop "Please install these as root: apt-get install $*"
    as_root=(sudo)
  fi
  echo "Installing $*"
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y -qq --no-install-recommends "$@" >/dev/null ||
    stop "apt-get could not install $*; please install them yourself and run this again."
}

# Commands with the packages they come in, "command:package".
need_programs() {
  local program missing=()
  for program in "$@"; do
    command -v "${program%:*}" >/dev/null || missing+=("${program#*:}")
  done
  [ ${#missing[@]} -eq 0 ] || install_packages "${missing[@]}"
}

# Whether "$1" (found as a command) is at least version "$2".
is_recent() {
  command -v "$1" >/dev/null || return 1
  local found
  found=$("$1" --version 2>/dev/null | awk '{print $2}') || return 1
  [ -n "$found" ] && [ "$(printf '%s\n%s\n' "$2" "$found" | sort -V | head -n 1)" = "$2" ]
}

# Builds a part of the workspace in the development profile, with the features that the whole of it needs: what one
# part built then serves all others and the tests.
build_part() {
  cargo build --locked --quiet --workspace "$@"
}

# A C compiler for the bundled SQLite, and Rust: the machine's own if recent enough, else Debian's.
need_rust() {
  command -v cc >/dev/null || install_packages gcc libc6-dev
  is_recent cargo "$rust_needed" && is_recent rustc "$rust_needed" && return
  # An account that has rustup but a shell that does not know it.
  [ -x "$HOME/.cargo/bin/cargo" ] && PATH="$HOME/.cargo/bin:$PATH"
  is_recent cargo "$rust_needed" && is_recent rustc "$rust_needed" && return
  install_packages rustc-web cargo-web
  hash -r
  is_recent cargo "$rust_needed" && is_recent rustc "$rust_needed" ||
    stop "Rust $rust_needed or newer is needed, and Debian's rustc-web did not bring it." \
      "Install it with rustup, then run this again."
}

# rustfmt and clippy of the same release as the compiler.
need_lints() {
  cargo fmt --version >/dev/null 2>&1 && cargo clippy --version >/dev/null 2>&1 && return
  if command -v rustup >/dev/null; then
    rustup component add rustfmt clippy
  else
    install_packages rustfmt-web rust-web-clippy
  fi
}

# A JDK, Maven and aapt2 for the phone's shell.
need_android() {
  android/setup
}

# Java that can open a window: JDKs for servers leave that part out.
need_window() {
  local java
  java=$(dirname "$(dirname "$(readlink -f "$(command -v java)")")")
  [ -e "$java/lib/libawt_xawt.so" ] || install_packages openjdk-17-jre
}

# A screen that nobody sees, and hands for it.
need_hidden_screen() {
  need_programs Xvfb:xvfb xdotool:xdotool
}
