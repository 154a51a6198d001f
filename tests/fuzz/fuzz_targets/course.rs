#![no_main]

#[path = "../subject.rs"]
mod subject;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| subject::named("course")(bytes));
