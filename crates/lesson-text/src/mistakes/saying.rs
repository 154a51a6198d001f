//! What was typed, with the bytes it stands at.

use std::ops::Range;

/// A value and the bytes of the file that say it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Spanned<T> {
    pub value: T,
    pub span: Range<usize>,
}

/// What was meant is unclear; why has been told already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Unclear;

/// A value that may be said. Nothing is ever concluded from an unclear one:
/// its own mistake has been told already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Saying<T> {
    Unsaid,
    Unclear,
    Said(Spanned<T>),
}

impl<T> Saying<T> {
    pub(crate) fn is_unsaid(&self) -> bool {
        matches!(self, Saying::Unsaid)
    }

    pub(crate) fn said(&self) -> Option<&Spanned<T>> {
        match self {
            Saying::Said(said) => Some(said),
            Saying::Unsaid | Saying::Unclear => None,
        }
    }

    /// Goes on with what was said; `None` there means that it was unclear.
    pub(crate) fn and_then<U>(self, read: impl FnOnce(Spanned<T>) -> Option<U>) -> Saying<U> {
        match self {
            Saying::Unsaid => Saying::Unsaid,
            Saying::Unclear => Saying::Unclear,
            Saying::Said(said) => {
                let span = said.span.clone();
                read(said).map_or(Saying::Unclear, |value| {
                    Saying::Said(Spanned { value, span })
                })
            }
        }
    }

    /// The value, or what holds where nothing is said; `None` where unclear.
    pub(crate) fn or(&self, unsaid: T) -> Option<T>
    where
        T: Clone,
    {
        match self {
            Saying::Unsaid => Some(unsaid),
            Saying::Unclear => None,
            Saying::Said(said) => Some(said.value.clone()),
        }
    }

    /// The value, if it is said.
    pub(crate) fn maybe(&self) -> Result<Option<T>, Unclear>
    where
        T: Clone,
    {
        match self {
            Saying::Unsaid => Ok(None),
            Saying::Unclear => Err(Unclear),
            Saying::Said(said) => Ok(Some(said.value.clone())),
        }
    }
}
