//! What lessons mean, once read.

mod changes;
mod figures;
mod head;

use lesson::{
    ComingDown, Connect, Direction, Ending, ExerciseKind, Feel, KeyChoice, KindName, Label, Lesson,
    Move, Named, Once, OwnWords, Paper, ScaleRun, Sequence, Shift, Span, Swing, Tempo, TooWide,
    WordsOver, WordsPlace,
};
use lesson_text::read;
use theory::{KeyOrder, Level, SignatureStyle, SpellingStyle};

fn lesson(text: &str) -> Lesson {
    match read(text, "stem") {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            assert_eq!(mistakes, [], "{text}");
            unreachable!("a lesson that isn't read has mistakes");
        }
    }
}

const SEQUENCE: &str = "[[exercise]]\nkind = \"sequence\"\n";
