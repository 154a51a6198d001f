//! Why a text can't be changed so.

/// Why a text can't be changed so: a sentence for the teacher. No mistake: it
/// is the change that can't be, so there is no span and nothing to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal(pub String);

/// What is written too unusually for a control.
pub(super) fn by_hand() -> Refusal {
    Refusal("this is written in a way that only the text can change: change it there".to_owned())
}

pub(super) fn nothing_there() -> Refusal {
    Refusal("the text doesn't say this any more".to_owned())
}
