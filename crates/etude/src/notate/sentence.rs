//! What is said over an exercise: a sentence that a teacher would say, and
//! that is true of this sheet.

use lesson::{
    ChorusKind, ComingDown, Direction, Exercise, ExerciseKind, Hide, KeyChoice, Keys, KindName,
    Lesson, Material, Named, NoteNames, Once, Over, Player, Say, Sequence, Span, Study, counted,
};
use theory::KeyOrder;

use crate::place::placement::Placement;
use crate::plan;
use crate::remark::{Remark, Shortfall};
use crate::spell::note_name::note_name;

/// What of an exercise stands on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Shown {
    ups: Many,
    downs: Many,
    /// Whether it is all that was asked.
    full: bool,
    reach: Distance,
    /// Whether targets are led up to.
    led: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Many {
    None,
    One,
    Several,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Distance {
    Span(Span),
    AsFarAsAll,
}

impl Shown {
    /// All that is asked.
    pub fn asked(exercise: &Exercise) -> Shown {
        let (direction, span) = match exercise.kind.material() {
            Material::Run(run) => (run.direction, run.span),
            Material::Once(once) => (once.direction, Span::OneOctave),
            Material::Sequence(sequence) => (sequence.direction, sequence.span),
            // Changes have their own way up and down.
            Material::Changes(..) | Material::GuideTones(_) | Material::Targets(_) => {
                (Direction::UpAndDown, Span::OneOctave)
            }
        };
        let (up, down) = match direction {
            Direction::Up => (Many::Several, Many::None),
            Direction::Down => (Many::None, Many::Several),
            Direction::UpAndDown => (Many::Several, Many::Several),
        };
        Shown {
            ups: up,
            downs: down,
            full: true,
            reach: Distance::Span(span),
            led: true,
        }
    }

    /// What came of it on a horn, in one key or several.
    pub fn of<'a>(exercise: &Exercise, placed: impl Iterator<Item = &'a Placement>) -> Shown {
        let mut shown = Shown::asked(exercise);
        let (mut ups, mut downs) = (0, 0);
        for placed in placed {
            ups = ups.max(placed.extent.ups);
            downs = downs.max(placed.extent.downs);
            for remark in &placed.remarks {
                let Remark::Shortfall(shortfall) = remark else {
                    continue;
                };
                shown.full = false;
                shown.reach = match shortfall {
                    Shortfall::Octaves { got, .. } => Distance::Span(*got),
                    Shortfall::WholeHorn { .. } => Distance::Span(Span::WholeHorn),
                    Shortfall::AsFarAsAll { .. } => Distance::AsFarAsAll,
                    Shortfall::Statements { .. } | Shortfall::ComingDown | Shortfall::WayDown => {
                        shown.reach
                    }
                };
            }
        }
        if exercise.kind.name() != KindName::Scale {
            shown.ups = Many::of(ups);
            shown.downs = Many::of(downs);
        }
        shown
    }

    /// Over changes: whether anything leads up to its targets.
    pub fn over(exercise: &Exercise, led: bool) -> Shown {
        Shown {
            led,
            ..Shown::asked(exercise)
        }
    }
}

impl Many {
    fn of(count: u16) -> Many {
        match count {
            0 => Many::None,
            1 => Many::One,
            _ => Many::Several,
        }
    }
}

/// The sentence over an exercise: `Lydian dominant over the whole horn`, `The
/// figure on every degree, and flipped coming down`.
pub(crate) fn sentence(
    lesson: &Lesson,
    exercise: &Exercise,
    player: &Player,
    shown: Shown,
) -> String {
    let own = exercise.kind.name().row().heading;
    let words = match &exercise.kind {
        ExerciseKind::Scale(run) => scale_run(&scale_name(lesson, exercise), run.direction, shown),
        ExerciseKind::Intervals(said) | ExerciseKind::Runs(said) => {
            study(lesson, exercise, said, shown)
        }
        ExerciseKind::Figure(said) => once(lesson, exercise, said, shown),
        ExerciseKind::Sequence(said) => sequence(lesson, exercise, said, shown),
        ExerciseKind::Trade(said, trade) => {
            let words = sequence(lesson, exercise, said, shown);
            format!("{words}, with {} {own}", counted(trade.bars, "bar"))
        }
        ExerciseKind::Keys(say) => {
            let way = through(plan::keys(lesson, exercise, player), lesson.note_names);
            match say {
                Say::Figure(said) if shown.downs != Many::None => {
                    format!("{}, {way}", once(lesson, exercise, said, shown))
                }
                Say::Figure(said) => format!("{} {way}", once(lesson, exercise, said, shown)),
                Say::Sequence(said) => {
                    format!("{}, {way}", sequence(lesson, exercise, said, shown))
                }
            }
        }
        ExerciseKind::Changes(over, _) => {
            let figure = Subject::of(lesson, exercise);
            over_changes(figure.then(own), over)
        }
        ExerciseKind::GuideTones(over) => over_changes(own.to_owned(), over),
        ExerciseKind::Targets(over) => {
            let kept = if shown.led {
                exercise.kind.name()
            } else {
                KindName::GuideTones
            };
            over_changes(kept.row().heading.to_owned(), over)
        }
    };
    // A name keeps its great letter within a sentence.
    let named = exercise.kind.name().row().names_scale
        || exercise.kind.name().says_figure() && Subject::of(lesson, exercise).named;
    let mut within = if named { words.clone() } else { small(&words) };
    if exercise.given.is_some() {
        within = format!("write out {within}");
    }
    let mut words = if scale_is_said(lesson, exercise) {
        capital(&within)
    } else {
        format!("{}: {within}", scale_name(lesson, exercise))
    };
    words.push_str(match exercise.hide {
        None => "",
        Some(Hide::Notes) => "; fill in the notes",
        Some(Hide::Chords) => "; fill in the chord symbols",
        Some(Hide::Degrees) => "; fill in the degrees",
    });
    words
}

/// A scale by itself.
fn scale_run(scale: &str, direction: Direction, shown: Shown) -> String {
    let way = match direction {
        Direction::Up => "up",
        Direction::Down => "down",
        Direction::UpAndDown => "over",
    };
    match shown.reach {
        Distance::Span(Span::WholeHorn) => format!("{scale} {way} the whole horn"),
        Distance::AsFarAsAll if direction == Direction::UpAndDown => {
            format!("{scale} as far as everyone can play")
        }
        Distance::AsFarAsAll => format!("{scale} {way} as far as everyone can play"),
        Distance::Span(octaves @ (Span::OneOctave | Span::TwoOctaves)) => {
            let way = match direction {
                Direction::UpAndDown => "up and down",
                Direction::Up | Direction::Down => way,
            };
            format!("{scale}, {} {way}", octaves.words())
        }
    }
}

/// `Lydian dominant in broken thirds, up and down`.
fn study(lesson: &Lesson, exercise: &Exercise, said: &Study, shown: Shown) -> String {
    let scale = scale_name(lesson, exercise);
    let what = exercise.kind.name().row().heading;
    let of = &lesson.figures[said.sequence.figure].moves_said;
    let broken = if said.broken { "broken " } else { "" };
    let reach = match shown.reach {
        Distance::Span(Span::OneOctave | Span::TwoOctaves) if !shown.full => " as far as they fit",
        Distance::Span(Span::OneOctave) => "",
        Distance::Span(Span::TwoOctaves) => " over two octaves",
        Distance::Span(Span::WholeHorn) => " over the whole horn",
        Distance::AsFarAsAll => " as far as everyone can play",
    };
    let way = match (shown.ups, shown.downs, said.sequence.coming_down) {
        (Many::None, ..) => "coming down",
        (_, Many::None, _) => "going up",
        (_, _, ComingDown::Flipped) => "up and down",
        (_, _, ComingDown::Reversed) => "and reversed coming down",
        (_, _, ComingDown::AsItIs) => "and the same way round coming down",
    };
    format!("{scale} in {broken}{what}{of}{reach}, {way}")
}

/// The figure once.
fn once(lesson: &Lesson, exercise: &Exercise, said: &Once, shown: Shown) -> String {
    let figure = Subject::of(lesson, exercise);
    let form = form_down(said.coming_down);
    match (shown.ups, shown.downs) {
        (_, Many::None) => figure.alone(),
        (Many::None, _) => {
            let form = form.map_or(String::new(), |form| format!("{form} "));
            figure.then(&format!("{form}from the root above"))
        }
        _ => {
            let form = form.unwrap_or("again");
            format!("{}, and {form} from the root above", figure.alone())
        }
    }
}

/// The figure on degree after degree.
fn sequence(lesson: &Lesson, exercise: &Exercise, said: &Sequence, shown: Shown) -> String {
    let figure = Subject::of(lesson, exercise);
    let form = form_down(said.coming_down);
    let formed = |rest: &str| {
        let form = form.map_or(String::new(), |form| format!("{form} "));
        figure.then(&format!("{form}{rest}"))
    };
    let degrees = match shown.reach {
        Distance::Span(Span::OneOctave | Span::TwoOctaves) if !shown.full => {
            "on each degree that fits"
        }
        Distance::Span(Span::OneOctave) => "on every degree",
        Distance::Span(Span::TwoOctaves) => "on every degree of two octaves",
        Distance::Span(Span::WholeHorn) => "on every degree over the whole horn",
        Distance::AsFarAsAll => "on every degree as far as everyone can play",
    };
    match (shown.ups, shown.downs) {
        (Many::One, Many::None) => figure.then("once"),
        (Many::None, Many::One) => formed("once"),
        (_, Many::None) => figure.then(&format!("{degrees}, going up")),
        (Many::None, _) => formed(&format!("{degrees}, coming down")),
        (Many::One, Many::One) => {
            let form = form.unwrap_or("again");
            figure.then(&format!("once, and {form} once"))
        }
        _ => match form {
            Some(form) => figure.then(&format!("{degrees}, and {form} coming down")),
            None => figure.then(&format!("{degrees}, up and down")),
        },
    }
}

/// What the figure becomes coming down, if anything.
fn form_down(coming_down: ComingDown) -> Option<&'static str> {
    match coming_down {
        ComingDown::Flipped => Some("flipped"),
        ComingDown::Reversed => Some("reversed"),
        ComingDown::AsItIs => None,
    }
}

/// The figure that an exercise says: `The figure`, or its name where the lesson
/// has several, and which variant of it.
struct Subject<'a> {
    figure: String,
    named: bool,
    variant: Option<&'a str>,
}

impl<'a> Subject<'a> {
    fn of(lesson: &'a Lesson, exercise: &Exercise) -> Subject<'a> {
        let figure = exercise.kind.figure().map(|at| &lesson.figures[at]);
        let names = || lesson.figures.iter().map(|figure| figure.name.as_deref());
        let several = names().any(|name| name.is_some() && Some(name) != names().next());
        let name = figure
            .and_then(|figure| figure.name.as_deref())
            .filter(|_| several);
        Subject {
            named: name.is_some(),
            figure: name.map_or_else(
                || match figure.and_then(|figure| figure.literal.as_ref()) {
                    Some(_) => "The phrase".to_owned(),
                    None => "The figure".to_owned(),
                },
                capital,
            ),
            variant: figure
                .filter(|_| exercise.kind.over().is_none())
                .and_then(|figure| figure.variant_heading.as_deref()),
        }
    }

    fn alone(&self) -> String {
        match self.variant {
            Some(variant) => format!("{}, {variant}", self.figure),
            None => self.figure.clone(),
        }
    }

    fn then(&self, rest: &str) -> String {
        match self.variant {
            Some(variant) => format!("{}, {variant}, {rest}", self.figure),
            None => format!("{} {rest}", self.figure),
        }
    }
}

/// Whether its scale needn't be named before a figure: it is the lesson's only
/// one, and another heading on the sheet says it.
fn scale_is_said(lesson: &Lesson, exercise: &Exercise) -> bool {
    let figure = exercise.kind.figure().map(|at| &lesson.figures[at]);
    let literal = figure.is_some_and(|figure| figure.literal.is_some());
    let kind = exercise.kind.name();
    if kind.row().names_scale || kind.row().over_changes || literal {
        return true;
    }
    let others = || {
        lesson
            .exercises
            .iter()
            .filter(|one| one.kind.over().is_none())
    };
    kind != KindName::Keys
        && others().any(|other| other.kind.name().row().names_scale)
        && others().all(|other| other.scale == exercise.scale)
}

fn scale_name(lesson: &Lesson, exercise: &Exercise) -> String {
    capital(&lesson.scales[exercise.scale].scale.name)
}

/// What more is played over changes.
fn over_changes(mut words: String, over: &Over) -> String {
    if over.plan.rest > 0 {
        let (play, rest) = (counted(over.plan.play, "bar"), over.plan.rest);
        words.push_str(&format!(", playing {play} and resting {rest}"));
    }
    if over.anticipate {
        words.push_str(", each chord on a bar line an eighth early");
    }
    words.push_str(&choruses(over));
    words
}

fn choruses(over: &Over) -> String {
    let said = |kind| match kind {
        ChorusKind::Line => "once more",
        ChorusKind::Elsewhere => "begun elsewhere",
        ChorusKind::Flipped => "flipped",
        ChorusKind::Later => "an eighth later",
        ChorusKind::Denser => "in half values",
        ChorusKind::Slashes => "slashes to improvise on",
    };
    let mut kinds = over.choruses.iter().map(|chorus| chorus.kind);
    let first = kinds.next().filter(|kind| *kind != ChorusKind::Line);
    let first = first.map(|kind| format!(", {}", said(kind)));
    let then = kinds.map(|kind| format!(", then {}", said(kind)));
    first.into_iter().chain(then).collect()
}

/// The way through the keys: `through the keys in fourths from concert C`; a
/// shuffle's seed, so that it can be made again.
fn through(keys: &Keys, names: NoteNames) -> String {
    let named = match keys.named {
        Named::Concert => "concert",
        Named::Written => "written",
    };
    let drawn = match &keys.draw {
        Some(draw) => format!(", {} of them drawn", draw.count),
        None => String::new(),
    };
    match &keys.choice {
        KeyChoice::Order { order, from } => {
            let from = format!("from {named} {}", note_name(*from, names));
            match order {
                KeyOrder::Shuffled { seed } => {
                    format!("through the keys, shuffled {from}{drawn} (seed {seed})")
                }
                KeyOrder::Cycle { .. } => {
                    format!("through the keys in {} {from}{drawn}", order.words())
                }
            }
        }
        KeyChoice::Only(keys) => {
            let keys: Vec<String> = keys.iter().map(|key| note_name(*key, names)).collect();
            match &keys[..] {
                [many @ .., last] if !many.is_empty() => {
                    format!("through {named} {} and {last}{drawn}", many.join(", "))
                }
                keys => format!("through {named} {}{drawn}", keys.join(" ")),
            }
        }
    }
}

/// With a great first letter.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}

/// With a small first letter.
fn small(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_lowercase);
    first.into_iter().flatten().chain(letters).collect()
}
