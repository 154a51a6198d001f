//! How often each remark holds within an exercise.

use theory::PitchName;

use crate::remark::Remark;

/// A remark on an exercise of a sheet, as often as it holds there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountedRemark {
    /// What is remarked.
    pub remark: Remark,
    /// In which key, by its written root, where the sheet moves through
    /// several.
    pub key: Option<PitchName>,
    /// How often; never 0.
    pub times: u32,
}

/// Counts remarks, each said of a key or of the whole exercise, in the order
/// in which they first come.
pub(crate) fn tally(said: impl Iterator<Item = (Option<PitchName>, Remark)>) -> Vec<CountedRemark> {
    let mut counted: Vec<CountedRemark> = Vec::new();
    for (key, remark) in said {
        let known = counted
            .iter_mut()
            .find(|known| known.key == key && known.remark == remark);
        match known {
            Some(known) => known.times += 1,
            None => counted.push(CountedRemark {
                remark,
                key,
                times: 1,
            }),
        }
    }
    counted
}

#[cfg(test)]
mod tests {
    use theory::Letter;

    use super::*;
    use crate::remark::{Shortfall, UnmetWish};

    /// Two keys of one sheet are told apart, and what comes again is counted
    /// where it came first.
    #[test]
    fn equal_remarks_are_counted_where_the_first_is() {
        let key = |letter| Some(PitchName::new(letter, 0));
        let leap = Remark::Wish(UnmetWish::Leap);
        let short = Remark::Shortfall(Shortfall::WayDown);
        let said = [
            (None, leap.clone()),
            (key(Letter::C), Remark::Jump),
            (key(Letter::F), Remark::Jump),
            (None, leap.clone()),
            (key(Letter::C), Remark::Jump),
            (key(Letter::C), Remark::Jump),
            (None, short.clone()),
        ];
        let counted: Vec<(Option<PitchName>, Remark, u32)> = tally(said.into_iter())
            .into_iter()
            .map(|one| (one.key, one.remark, one.times))
            .collect();
        let expected = [
            (None, leap, 2),
            (key(Letter::C), Remark::Jump, 3),
            (key(Letter::F), Remark::Jump, 1),
            (None, short, 1),
        ];
        assert_eq!(counted, expected);
    }
}
