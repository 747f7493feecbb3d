#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| gantrywright_fuzz::keys(data));
