#![no_main]

#[path = "../holds.rs"]
#[allow(dead_code)]
mod holds;

libfuzzer_sys::fuzz_target!(|input: &[u8]| holds::uci(input));
