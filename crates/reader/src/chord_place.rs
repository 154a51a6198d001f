//! Where chord symbols fall: offsets, symbols that overrun their bar, and
//! several at one place.

use lesson::PlacedChord;
use rhythm::{Fraction, Meter};
use theory::ChordSymbol;

use crate::grid::GridBar;
use crate::part::{Concern, Part, PlacedWarning};
use crate::time::subtract;
use crate::{Place, ReadError, Warning};

/// A symbol on its way to its place.
#[derive(Debug)]
struct Symbol {
    /// Quarters from the bar's start.
    at: Fraction,
    symbol: ChordSymbol,
}

/// The chords of each bar, taken out of the part.
/// What can't be read is told and left out: the chord before goes on.
pub(crate) fn placed(
    part: &mut Part,
    bars: &[GridBar],
    told: &mut Vec<PlacedWarning>,
) -> Vec<Vec<PlacedChord>> {
    let read = taken(part, told);
    let begins = |(symbols, bar): (&Vec<Symbol>, &GridBar)| {
        symbols.iter().any(|symbol| symbol.at == bar.padding)
    };
    let mut placing = Placing {
        part,
        bars,
        told,
        firsts: read.iter().zip(bars).map(begins).collect(),
        placed: bars.iter().map(|_| Vec::new()).collect(),
    };
    for (at, symbols) in read.into_iter().enumerate() {
        for symbol in symbols {
            placing.put(at, symbol);
        }
    }
    for at in 0..bars.len() {
        placing.order(at);
        placing.spread(at);
    }
    let from_bar_line = |(symbols, bar): (Vec<Symbol>, &GridBar)| {
        let chord = |symbol: Symbol| PlacedChord {
            at: bar.from + symbol.at,
            symbol: symbol.symbol,
        };
        symbols.into_iter().map(chord).collect()
    };
    let placed = placing.placed.into_iter().zip(bars);
    placed.map(from_bar_line).collect()
}

fn taken(part: &mut Part, told: &mut Vec<PlacedWarning>) -> Vec<Vec<Symbol>> {
    let mut all = Vec::with_capacity(part.measures.len());
    for (at, measure) in part.measures.iter_mut().enumerate() {
        let mut symbols = Vec::with_capacity(measure.chords.len());
        for chord in std::mem::take(&mut measure.chords) {
            match chord.symbol {
                Ok(symbol) => symbols.push(Symbol {
                    at: chord.at,
                    symbol,
                }),
                Err(fault) => told.push(left_out(&fault, at)),
            }
        }
        all.push(symbols);
    }
    all
}

/// Says that a chord symbol couldn't be read.
pub(crate) fn left_out(fault: &ReadError, measure: usize) -> PlacedWarning {
    PlacedWarning {
        about: Concern::All,
        warning: Warning {
            place: (*fault.place).clone(),
            message: format!("a chord was left out: {}", fault.reason),
        },
        measure,
    }
}

struct Placing<'a> {
    part: &'a Part,
    bars: &'a [GridBar],
    told: &'a mut Vec<PlacedWarning>,
    /// Whether each measure has a chord on its first beat.
    firsts: Vec<bool>,
    placed: Vec<Vec<Symbol>>,
}

impl Placing<'_> {
    /// Puts a symbol of a measure into its bar, or into the bar beside it
    /// that its offset leads to.
    fn put(&mut self, at: usize, mut symbol: Symbol) {
        let bar = &self.bars[at];
        symbol.at = subtract(symbol.at, bar.padding).unwrap_or(Fraction::ZERO);
        if symbol.at < Fraction::ZERO {
            let before = at
                .checked_sub(1)
                .map(|before| self.bars[before].length + symbol.at);
            match before.filter(|place| *place >= Fraction::ZERO) {
                Some(place) => {
                    self.tell(
                        at,
                        "an offset leads before the bar: the chord was put into the bar before",
                    );
                    self.placed[at - 1].push(Symbol {
                        at: place,
                        ..symbol
                    });
                }
                None => {
                    self.tell(
                        at,
                        "an offset leads before the bar: the chord was put on its first beat",
                    );
                    self.placed[at].push(Symbol {
                        at: Fraction::ZERO,
                        ..symbol
                    });
                }
            }
            return;
        }
        if symbol.at < bar.length {
            self.placed[at].push(symbol);
            return;
        }
        let next = self.part.measures.get(at + 1);
        if next.is_some() && !self.begins_with_a_chord(at + 1) {
            self.tell(
                at,
                "a chord stands after the bar's last note: it was put on the next bar line",
            );
            self.placed[at + 1].push(Symbol {
                at: Fraction::ZERO,
                ..symbol
            });
        } else {
            self.tell(
                at,
                "a chord stands after the bar's last note: it was put on the bar's last beat",
            );
            let beat = bar.meter.beat();
            let last = if bar.length > beat {
                bar.length - beat
            } else {
                Fraction::ZERO
            };
            self.placed[at].push(Symbol { at: last, ..symbol });
        }
    }

    /// Whether the bar will have a chord of its own on its first beat.
    fn begins_with_a_chord(&self, at: usize) -> bool {
        self.firsts.get(at).copied().unwrap_or(false)
    }

    /// Chords in the order they sound; the same one twice is one.
    fn order(&mut self, at: usize) {
        let symbols = &mut self.placed[at];
        symbols.sort_by_key(|symbol| symbol.at);
        symbols.dedup_by(|later, sooner| later.at == sooner.at && later.symbol == sooner.symbol);
    }

    /// Several chords at one place without offsets share the beats until the
    /// next.
    fn spread(&mut self, at: usize) {
        let bar = &self.bars[at];
        let symbols = &self.placed[at];
        let mut places: Vec<Fraction> = symbols.iter().map(|symbol| symbol.at).collect();
        let mut spread = false;
        let mut start = 0;
        while start < symbols.len() {
            let same = |symbol: &&Symbol| symbol.at == symbols[start].at;
            let count = symbols[start..].iter().take_while(same).count();
            if count > 1 {
                spread = true;
                let to = symbols
                    .get(start + count)
                    .map_or(bar.length, |next| next.at);
                let room = to - symbols[start].at;
                for (place, which) in places[start..start + count].iter_mut().zip(0i64..) {
                    *place += share(room, which, i64::try_from(count).unwrap_or(1), &bar.meter);
                }
            }
            start += count.max(1);
        }
        if spread {
            self.tell(
                at,
                "several chords stand at one place: they were spread over the beats",
            );
            for (symbol, place) in self.placed[at].iter_mut().zip(places) {
                symbol.at = place;
            }
        }
    }

    fn tell(&mut self, at: usize, message: &str) {
        let measure = self.part.measures.get(at);
        let place = Place {
            measure: measure.map(|measure| crate::shown::short(&measure.number)),
            element: Some("harmony".to_owned()),
            ..Place::default()
        };
        let warning = Warning {
            place,
            message: message.to_owned(),
        };
        self.told.push(PlacedWarning {
            about: Concern::Chords,
            warning,
            measure: at,
        });
    }
}

/// Where the n-th of several chords begins in a room: on whole beats where
/// there are enough.
fn share(room: Fraction, which: i64, count: i64, meter: &Meter) -> Fraction {
    let beat = meter.beat();
    let beats = (room / beat).floor();
    if beats >= Fraction::from(count) {
        // The earlier chords take what is over.
        beat * (beats * which / count).ceil()
    } else {
        room * which / count
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chords_share_the_beats() {
        let check = |meter: &str, count: i64, expected: &[(i64, i64)]| {
            let meter: Meter = meter.parse().unwrap();
            let found: Vec<Fraction> = (0..count)
                .map(|which| share(meter.bar(), which, count, &meter))
                .collect();
            let expected: Vec<Fraction> = expected
                .iter()
                .map(|(upper, lower)| Fraction::new(*upper, *lower))
                .collect();
            assert_eq!(found, expected);
        };
        check("4/4", 2, &[(0, 1), (2, 1)]);
        check("4/4", 4, &[(0, 1), (1, 1), (2, 1), (3, 1)]);
        check("4/4", 3, &[(0, 1), (2, 1), (3, 1)]);
        check("3/4", 2, &[(0, 1), (2, 1)]);
        check("6/8", 2, &[(0, 1), (3, 2)]);
        check("2/4", 3, &[(0, 1), (2, 3), (4, 3)]);
    }
}
