//! Replays the fuzzer's corpus, and mutations of it: never a panic, never more
//! than a second.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use proptest::prelude::*;

#[path = "fuzz/subject.rs"]
mod subject;

/// What one input may take, in a build without optimisation.
const LONGEST: Duration = Duration::from_secs(1);

/// Every subject, as its folder of the corpus is called.
const SUBJECTS: [&str; 8] = [
    "lesson_text",
    "count",
    "moves",
    "degrees",
    "chord",
    "changes",
    "course",
    "music_xml",
];

fn corpus(name: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fuzz/corpus");
    let entries = fs::read_dir(folder.join(name)).into_iter().flatten();
    let mut paths: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    paths.sort();
    let inputs: Vec<Vec<u8>> = paths.iter().flat_map(fs::read).collect();
    assert!(!inputs.is_empty() && inputs.len() == paths.len(), "{name}");
    inputs
}

fn check(name: &str, bytes: &[u8]) {
    let begun = Instant::now();
    subject::named(name)(bytes);
    let taken = begun.elapsed();
    assert!(
        taken < LONGEST,
        "{name} took {taken:?}: {:?}",
        String::from_utf8_lossy(bytes)
    );
}

#[test]
fn the_corpus_is_replayed() {
    for name in SUBJECTS {
        for bytes in corpus(name) {
            check(name, &bytes);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn random_bytes_are_taken(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        for name in SUBJECTS {
            check(name, &bytes);
        }
    }

    #[test]
    fn changed_words_are_taken(
        which in any::<prop::sample::Index>(),
        from in any::<prop::sample::Index>(),
        taken in 0usize..12,
        put in "[ -~\n♭♯é🎷]{0,8}",
    ) {
        for name in SUBJECTS {
            let corpus = corpus(name);
            let mut bytes = corpus[which.index(corpus.len())].clone();
            let from = from.index(bytes.len() + 1);
            let to = (from + taken).min(bytes.len());
            bytes.splice(from..to, put.bytes());
            check(name, &bytes);
        }
    }
}
