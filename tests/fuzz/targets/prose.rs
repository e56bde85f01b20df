//! The fuzz target `prose`; what must hold is in `checks/`.
#![no_main]

#[path = "../checks/mod.rs"]
#[allow(dead_code)]
mod checks;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| checks::prose(bytes));
