//! Shimwright without a phone: the whole job on photographs, and the parts of it for scripts.

fn main() {}
