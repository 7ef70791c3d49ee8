# shellcheck shell=bash
# Which Rust builds for Android, to be sourced after common.sh: $cargo, and in $std what builds Rust's own library where
# it is not to be had for Android.

export RUSTC_BOOTSTRAP=1 # -Z on a stable compiler
cargo=cargo
std=(-Z "build-std=std,panic_unwind" -Z "build-std-features=panic-unwind,optimize_for_size")
if [ -d "$(rustc --print target-libdir --target "$triple")" ]; then
  std=()
elif [ ! -e "$(rustc --print sysroot)/lib/rustlib/src/rust/library/Cargo.lock" ]; then
  [ -e /usr/lib/rustlib/src/rust/library/Cargo.lock ] || install_packages rustc-web cargo-web rust-web-src
  cargo=/usr/bin/cargo
  export RUSTC=/usr/bin/rustc
fi
