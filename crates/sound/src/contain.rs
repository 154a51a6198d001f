//! A panic in a library, kept from going further.
//!
//! The SoundFont player indexes by what a font says, so that a damaged one
//! can make it panic. Here such a panic becomes a value, and the usual report
//! on the error stream stays silent for it alone. This needs panics that
//! unwind: the program must not be built with `panic = "abort"`.

use std::cell::Cell;
use std::panic::{self, AssertUnwindSafe};
use std::sync::Once;

thread_local! {
    /// Whether this thread's panics are expected.
    static CONTAINED: Cell<bool> = const { Cell::new(false) };
}

static QUIET: Once = Once::new();

/// Does the work; none if it panicked. What the work was changing is left
/// half done, so it must not be used after that.
pub(crate) fn contain<T>(work: impl FnOnce() -> T) -> Option<T> {
    QUIET.call_once(|| {
        let usual = panic::take_hook();
        panic::set_hook(Box::new(move |report| {
            if !CONTAINED.get() {
                usual(report);
            }
        }));
    });
    let outer = CONTAINED.replace(true);
    let result = panic::catch_unwind(AssertUnwindSafe(work));
    CONTAINED.set(outer);
    result.ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_a_value() {
        assert_eq!(contain(|| 7), Some(7));
        let index = std::hint::black_box(9);
        assert_eq!(contain(|| [1, 2, 3][index]), None);
        assert_eq!(contain(|| contain(|| [1][index])), Some(None));
        assert!(!CONTAINED.get());
    }
}
