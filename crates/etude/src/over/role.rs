//! What a statement is in its phrase, and what must be remembered of those
//! before it.

/// The part of a phrase that a statement is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PhrasePart {
    /// What is said first.
    Statement,
    /// The same figure elsewhere, or turned over.
    Answer,
    /// More notes in the same time.
    Denser,
    /// It rests on a chord tone.
    End,
}

impl PhrasePart {
    /// In a word, for `check`.
    pub const fn word(self) -> &'static str {
        match self {
            PhrasePart::Statement => "statement",
            PhrasePart::Answer => "answer",
            PhrasePart::Denser => "denser",
            PhrasePart::End => "end",
        }
    }
}

/// What a statement is in its phrase, to the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Role {
    pub part: Option<PhrasePart>,
    /// Whether it is the phrase's first: the one that is answered.
    pub opens: bool,
    /// Whether it is the first of the answer.
    pub answers: bool,
    /// Whether its figure and how dense it was must be known afterwards, and
    /// whether in which variant and from which degree.
    pub keeps_kind: bool,
    pub keeps_words: bool,
    /// What a wish that isn't met costs.
    pub cost: u32,
}

/// What must be known of the statements before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Memory {
    /// The kind of the phrase's first statement: figure and density; 0 where
    /// that doesn't matter.
    pub kind: u16,
    /// Its variant and its degree.
    pub words: Option<(u16, u16)>,
    /// Whether the line's highest pitch was reached.
    pub peak: bool,
}

/// A figure, and how dense it is among those of its line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct StatementKind {
    pub figure: u16,
    pub density: u16,
}

impl Memory {
    /// All of it in one number.
    pub fn packed(self) -> u64 {
        let words = match self.words {
            None => 0,
            Some((variant, degree)) => 1 << 32 | u64::from(variant) << 16 | u64::from(degree),
        };
        u64::from(self.kind) << 34 | words << 1 | u64::from(self.peak)
    }
}

impl Role {
    /// What a choice costs in this part, by its kind and its variant and
    /// degree, and what is known after it.
    pub fn step(
        &self,
        kinds: &[StatementKind],
        memory: Memory,
        own_kind: u16,
        words: (u16, u16),
    ) -> (u32, Memory) {
        let mut cost = 0;
        let kind = |number: u16| kinds.get(usize::from(number)).copied().unwrap_or_default();
        let (own, said) = (kind(own_kind), kind(memory.kind));
        match self.part {
            Some(PhrasePart::Answer) => {
                cost += self.unless(own.figure == said.figure);
                let again = memory.words == Some(words);
                cost += self.unless(!(self.answers && again));
            }
            Some(PhrasePart::Denser) => {
                cost += self.unless(own.density > said.density);
            }
            Some(PhrasePart::Statement | PhrasePart::End) | None => {}
        }
        let now = Memory {
            kind: if self.opens { own_kind } else { memory.kind },
            words: if self.opens {
                Some(words)
            } else {
                memory.words
            },
            peak: memory.peak,
        };
        let kept = Memory {
            kind: if self.keeps_kind { now.kind } else { 0 },
            words: now.words.filter(|_| self.keeps_words),
            peak: now.peak,
        };
        (cost, kept)
    }

    fn unless(&self, met: bool) -> u32 {
        if met { 0 } else { self.cost }
    }
}
