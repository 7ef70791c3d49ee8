//! Writes the Kotlin that belongs to a built library.

fn main() {
    uniffi::uniffi_bindgen_main();
}
