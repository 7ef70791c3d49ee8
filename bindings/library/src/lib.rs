//! The bindings as a shared library, with no code of its own: what is built at link time is built at this crate's
//! level (for a phone: speed), what the bindings say at theirs (size).

pub use bindings::*;
