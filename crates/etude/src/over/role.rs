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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn memories_that_differ_are_different_numbers() {
        let ends = [0, 1, 2, u16::MAX];
        let pairs = ends.iter().flat_map(|one| ends.map(|other| (*one, other)));
        let words: Vec<Option<(u16, u16)>> = pairs.map(Some).chain([None]).collect();
        let mut packed = Vec::new();
        for kind in ends {
            for words in &words {
                for peak in [false, true] {
                    let words = *words;
                    packed.push(Memory { kind, words, peak }.packed());
                }
            }
        }
        let all = packed.len();
        packed.sort_unstable();
        packed.dedup();
        assert_eq!(packed.len(), all);
    }

    /// What each part wishes of the phrase's first statement, by `RULES.md`.
    #[test]
    fn wishes_that_are_met_cost_nothing() {
        let kind = |figure, density| StatementKind { figure, density };
        // The first means nothing.
        let kinds = [
            StatementKind::default(),
            kind(0, 4),
            kind(0, 5),
            kind(1, 4),
            kind(1, 3),
        ];
        let first = Memory {
            kind: 1,
            words: Some((2, 7)),
            peak: false,
        };
        let cost = |part: PhrasePart, own: u16, words: (u16, u16)| {
            let role = Role {
                part: Some(part),
                answers: part == PhrasePart::Answer,
                cost: 10,
                ..Role::default()
            };
            role.step(&kinds, first, own, words).0
        };
        // An answer is of the same figure, and not the same again.
        assert_eq!(cost(PhrasePart::Answer, 2, (2, 0)), 0);
        assert_eq!(cost(PhrasePart::Answer, 1, (0, 7)), 0);
        assert_eq!(cost(PhrasePart::Answer, 1, (2, 7)), 10);
        assert_eq!(cost(PhrasePart::Answer, 3, (2, 0)), 10);
        assert_eq!(cost(PhrasePart::Answer, 3, (2, 7)), 20);
        // As dense isn't denser, whatever figure it is.
        assert_eq!(cost(PhrasePart::Denser, 2, (2, 7)), 0);
        assert_eq!(cost(PhrasePart::Denser, 1, (2, 7)), 10);
        assert_eq!(cost(PhrasePart::Denser, 3, (2, 7)), 10);
        assert_eq!(cost(PhrasePart::Denser, 4, (2, 7)), 10);
        // An end costs by itself, a statement nothing.
        assert_eq!(cost(PhrasePart::End, 4, (2, 7)), 0);
        assert_eq!(cost(PhrasePart::Statement, 4, (2, 7)), 0);
    }
}
