//! Every mistake of sense: what is said of it, and where.

mod render;

use render::rendered;

const SCALE: &str = "[scale]\nname = \"dorian\"\n";
const FIGURE: &str = "[figure]\nmoves = \"start, step up, step up\"\n";

/// Each row is told with the words around it that make a whole lesson.
fn told(rows: &[&str], before: &str, after: &str) -> String {
    let told = |row: &&str| {
        let text = format!("{before}{row}\n{after}");
        let lines = before.matches('\n').count();
        let rendered = rendered(&text).replace('\n', "\n    ");
        format!("{row}\n    ({lines} lines before) {rendered}")
    };
    rows.iter().map(told).collect::<Vec<_>>().join("\n\n")
}

#[test]
fn head() {
    let rows = [
        "subtitle = \"\"",
        "subtitle = 7",
        "subtitle = \"a\\u0001b\"",
        "class = \"a\\nb\"",
        "class = [\"a\"]",
        "id = \"a/b\"",
        "id = \"..\"",
        "titel = \"B\"",
        "Level = \"beginner\"",
        "humming = true",
        "moves = \"start\"",
        "level = \"intermidiate\"",
        "level = \"expert\"",
        "level = 3",
        "tempo = 12",
        "tempo = 401",
        "tempo = 96.5",
        "tempo = \"96\"",
        "tempo = \"fast\"",
        "tempo = 99999999999999999999",
        "tempo = { from = 72, to = 120 }",
        "tempo = { from = 120, to = 72, by = 8 }",
        "tempo = { from = 72, to = 80, by = 9 }",
        "tempo = { from = 72, to = 120, by = 8, of = 2 }",
        "feel = \"swng\"",
        "feel = true",
        "signature = \"all\"",
        "spelling = \"easy\"",
        "labels = \"degrees\"",
        "labels = [\"degrees\", \"degree\"]",
        "labels = [\"counts\", \"counts\"]",
        "labels = [1]",
        "together = \"yes\"",
        "together = 1",
        "exercise = []",
        "figure = 4",
        "keys = 5",
        "keys = \"forths\"",
        "keys = []",
        "keys = [\"C\", \"H\"]",
        "keys = [\"C#\", \"Db\"]",
        "keys = 1979-05-27",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn characters_that_steer() {
    let rows = [
        "subtitle = \"left\u{202e}right\"",
        "subtitle = \"a\\u202Eb\"",
        "id = \"a\u{200b}b\"",
        "author = \"\u{200f}\"",
        "text = \"\"\"\none\ntwo\u{2066}\"\"\"",
        "instruments = [\"flute\", \"oboe\u{2060}\"]",
        "subtitle = \"a\u{ffff}\"",
        "\"le\u{200b}vel\" = \"beginner\"",
        "[[player]]\nname = \"\u{202d}Ash\"\ninstrument = \"flute\"",
        "[[exercise]]\nkind = \"sequence\"\nwords = { \"bar 1\" = \"a\u{feff}b\", \"bar\u{200e} 2\" = \"c\" }",
        // Joiners are part of words.
        "subtitle = \"می\u{200c}خواهم\"",
    ];
    let told = told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}"));
    // The snapshot shows what can't be seen.
    let seen = |letter: char| match letter {
        plain if plain.is_ascii() || plain == '—' => plain.to_string(),
        hidden => hidden.escape_unicode().to_string(),
    };
    insta::assert_snapshot!(told.chars().map(seen).collect::<String>());
}

#[test]
fn titles() {
    let long = format!("title = \"{}\"", "a".repeat(301));
    let rows = [
        "",
        "title = \"\"",
        "title = \"  \"",
        "title = 1",
        "Title = \"A\"",
        long.as_str(),
    ];
    insta::assert_snapshot!(told(&rows, "", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn keys() {
    let rows = [
        "[keys]\norder = \"fifth\"",
        "[keys]\norder = \"sideways\"",
        "[keys]\nfrom = \"X\"",
        "[keys]\nfrom = \"C\"\nonly = [\"D\"]",
        "[keys]\norder = \"fourths\"\nonly = [\"D\"]",
        "[keys]\nonly = \"D\"",
        "[keys]\nonly = []",
        "[keys]\nonly = [\"Gb\", \"F#\"]",
        "[keys]\nseed = 4",
        "[keys]\norder = \"shuffled\"\nseed = -4",
        "[keys]\nnamed = \"sounding\"",
        "[keys]\nprefer = \"naturals\"",
        "[keys]\norders = \"fourths\"",
        "[keys]\ntempo = 90",
        "[[keys]]\nfrom = \"C\"",
        "[keys]\nheard = [\"C\"]",
        "[keys]\ndraw = 0",
        "[keys]\ndraw = 13",
        "[keys]\ndraw = 11\nheard = [\"C\", \"F\"]",
        "[keys]\ndraw = 3\nheard = [\"C\", \"B#\"]",
        "[keys]\ndraw = 3\nonly = [\"C\"]",
        "[keys]\ndraw = \"three\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn players() {
    let rows = [
        "instruments = []",
        "instruments = [\"clarinet\"]",
        "instruments = [\"alto saxofone\"]",
        "instruments = [\"zither of glass\"]",
        "instruments = [\"flute\", \"Flute\"]",
        "instruments = \"flute\"",
        "instruments = [\"flute\"]\n[[player]]\ninstrument = \"oboe\"",
        "[[player]]\nname = \"A\"",
        "[[player]]\ninstrument = \"flute\"\n[[player]]\ninstrument = \"flute\"",
        "[[player]]\nname = \"Left stand\"\ninstrument = \"flute\"\n[[player]]\nname = \"left stand\"\ninstrument = \"oboe\"",
        "[[player]]\nname = \"!\"\ninstrument = \"flute\"",
        "[[player]]\ninstrument = \"flute\"\nlow = \"C\"",
        "[[player]]\ninstrument = \"flute\"\nlow = \"C1\"",
        "[[player]]\ninstrument = \"flute\"\nlow = \"C5\"\nhigh = \"C4\"",
        "[[player]]\ninstrument = \"flute\"\nlevel = \"beginner\"\nlow = \"C7\"",
        "[[player]]\ninstrument = \"flute\"\nlevel = \"beginner\"\nhigh = \"C4\"",
        "[[player]]\ninstrument = \"flute\"\ncopies = 0",
        "[[player]]\ninstrument = \"flute\"\nlevel = \"pro\"\nkeys = [\"C\", \"C\"]",
        "[[player]]\ninstruments = \"flute\"",
        "[player]\ninstrument = \"flute\"\nhorn = 3",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn scales() {
    let rows = [
        "",
        "[scale]",
        "[scale]\nname = \"dorain\"",
        "[scale]\nname = \"no such thing at all\"",
        "[scale]\nname = \"dorian\"\ndegrees = \"1 2 3 4 5 6 7\"",
        "[scale]\ndegrees = \"1 x 3\"",
        "[scale]\ndegrees = \"2 3 4 5\"",
        "[scale]\ndegrees = \"1 3 2\"",
        "[scale]\ndegrees = \"\"",
        "[scale]\nname = \"dorian\"\nchord = \"Cm7\"",
        "[scale]\nname = \"dorian\"\nchord = \"m8\"",
        "[[scale]]\nname = \"dorian\"\n[[scale]]\nname = \"Dorian\"",
        "[[scale]]\nname = \"dorian\"\n[[scale]]\ndegrees = \"1 2 3\"",
        "[scale]\nmane = \"dorian\"",
        "[scale]\nname = [\"dorian\"]",
        "[scael]\nname = \"dorian\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", FIGURE));
}

#[test]
fn figures() {
    let rows = [
        "",
        "[figure]",
        "[figure]\nmoves = \"\"",
        "[figure]\nmoves = \"start,, step up\"",
        "[figure]\nmoves = \"start step up\"",
        "[figure]\nmoves = \"start, up 3, hop\"",
        "[figure]\nmoves = \"step up, start\"",
        "[figure]\nmoves = \"start, start\"",
        "[figure]\nmoves = \"from below\"",
        "[figure]\nmoves = \"start, from below, repeat\"",
        "[figure]\nmoves = \"start on 2 , step up\"\ndegrees = \"1 2\"",
        "[figure]\nmoves = \"start on 3, step up\"",
        "[figure]\nmoves = \"start on b9, step up\"",
        "[figure]\nmoves = \"start, up 99 steps, up 99 steps\"",
        "[figure]\nmoves = \"start, octave up, \\t hop\"",
        "[figure]\ndegrees = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 e\"\nnumbers = \"eighths\"",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 e\"\nnumbers = \"quarters\"",
        "[figure]\nmoves = \"start, step up\"\nnumbers = \"eighths\"",
        "[figure]\ndegrees = \"1 2 low\"",
        "[figure]\ndegrees = \"1 2 q\"",
        "[figure]\nrungs = \"1 b2\"",
        "[figure]\nrungs = \"1 high high high high high high high high high high high high high high high high high high 2\"",
        "[figure]\nmoves = 5",
        "[figure]\nmoves = \"start\"\nmeter = 4",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up, step up\"\ncount = \"1 2 (3)\"",
        "[figure]\nmoves = \"start, rest, step up\"\ncount = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up, rest\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, enclose\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, rest\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, hop\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, step down, step down\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, step up\"\ncount = 12",
        "[[figure]]\nname = \"a\"\nmoves = \"start\"\n[[figure]]\nname = \"A\"\nmoves = \"start\"",
        "[[figure]]\nname = \"a\"\nmoves = \"start\"\n[[figure]]\nmoves = \"start\"",
        "[figure]\nmove = \"start, hop\"",
        "[figure]\nmoves = \"start\"\nkind = \"scale\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", SCALE));
}

/// The count's and the meter's own mistakes stand at their words; what is said
/// of them is the rhythm crate's to test.
#[test]
fn counts() {
    let rows = [
        "count = \"1 2 5\"",
        "count = \"3 1 2\"",
        "count = \"1 1 2\"",
        "count = \"1 und 2\"",
        "count = \"1 (2 3\"",
        "count = \"1 2) 3\"",
        "count = \"-1 2 3\"",
        "count = \"1 (2) -3 4\"",
        "count = \"1 (-2) 3 4\"",
        "count = \"1 2 3-\"",
        "count = \"1-2 3\"",
        "count = \"\"",
        "count = \"\\t1 \\u0032 five\"",
        "count = \"1 2 3\"\nlength = \"2 beats\"",
        "count = \"1 2 3\"\nlength = \"two\"",
        "count = \"1 2 3\"\nlength = 2",
        "length = \"1 beat\"",
        "length = \"0 bars\"",
        "meter = \"four\"",
        "meter = \"5/4 = 2+2\"\ncount = \"1 2 3\"",
        "meter = \"4/5\"\ncount = \"1 2 3\"",
        "count = \"1 2 9\"\nmeter = \"7/8\"\nflipped = \"start, down 4\"",
    ];
    let told = told(&rows, &format!("title = \"A\"\n{SCALE}{FIGURE}"), "");
    let places: Vec<&str> = told
        .lines()
        .map(|line| line.split(" — ").next().unwrap_or(line))
        .collect();
    insta::assert_snapshot!(places.join("\n"));
}

#[test]
fn exercises() {
    let rows = [
        "[[exercise]]",
        "[[exercise]]\nkind = \"scales\"",
        "[[exercise]]\nkind = \"arpeggio\"",
        "[[exercise]]\nkind = \"sequence\"\nfigure = \"lost\"",
        "[[exercise]]\nkind = \"sequence\"\nscale = \"Doran\"",
        "[[exercise]]\nkind = \"sequence\"\nscale = \"lydian\"",
        "[[exercise]]\nkind = \"sequence\"\ndirection = \"sideways\"",
        "[[exercise]]\nkind = \"sequence\"\ncoming_down = \"reverse\"",
        "[[exercise]]\nkind = \"sequence\"\nspan = \"three octaves\"",
        "[[exercise]]\nkind = \"sequence\"\nwhen_too_wide = \"stop\"",
        "[[exercise]]\nkind = \"sequence\"\nending = \"fifth\"",
        "[[exercise]]\nkind = \"sequence\"\nlevel = \"hard\"",
        "[[exercise]]\nkind = \"sequence\"\nkeys = { order = \"fourths\", only = [\"C\"] }",
        "[[exercise]]\nkind = \"sequence\"\ntempo = 0",
        "[[exercise]]\nkind = \"sequence\"\nlabels = [\"fingerings\"]",
        "[[exercise]]\nkind = \"sequence\"\nchord = \"G7\"",
        "[[exercise]]\nkind = \"scale\"\ncoming_down = \"flipped\"\nending = \"none\"",
        "[[exercise]]\nkind = \"figure\"\nspan = \"one octave\"",
        "[[exercise]]\nkind = \"sequence\"\ncoming-down = \"flipped\"",
        "[[exercise]]\nkind = \"sequence\"\nsubtitle = \"B\"",
        "[[exercise]]\nkind = \"trade\"\nwritten = 0",
        "[[exercise]]\nkind = \"trade\"\nslashes = \"four\"",
        "[[exercise]]\nkind = \"trade\"\nline = \"scale\"",
        "[[exercise]]\nkind = \"sequence\"\nwritten = 2",
        "[[exercise]]\nkind = \"sequence\"\ngiven = 2",
        "[[exercise]]\nkind = \"write out\"\nline = \"trade\"",
        "[[exercise]]\nkind = \"write out\"\ngiven = 100",
        "[[exercise]]\nkind = \"writeout\"",
        "[[exercise]]\nkind = \"sequence\"\nhide = \"note\"",
        "[[exercise]]\nkind = \"sequence\"\nhide = \"degrees\"",
        "[[exercise]]\nkind = \"sequence\"\nbreath = \"comma\"",
        "[[exercise]]\nkind = \"sequence\"\ndynamic = \"loud\"",
        "chord_symbols = \"no\"",
        "[[exercise]]\nkind = \"sequence\"\nchord = \"\"",
        "[[exercise]]\nkind = \"sequence\"\nchord = \"None\"",
        "[[exercise]]\nkind = \"sequence\"\nchord_symbols = false\nhide = \"chords\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

/// `unflipped`, slurs into the next statement, and what becomes of notes.
#[test]
fn notes_of_a_figure() {
    let figure = |more: &str| {
        format!(
            "[figure]\nmoves = \"start, step up, from below, skip up, step down\"\ncount = \"1 & 2 & 3\"\n{more}"
        )
    };
    let rows = [
        "unflipped = \"last\"",
        "unflipped = \"4-5, 2\"",
        "unflipped = \"1\"",
        "unflipped = \"3\"",
        "unflipped = \"6\"",
        "unflipped = \"5-4\"",
        "unflipped = \"final\"",
        "unflipped = \"\"",
        "unflipped = 5",
        "unflipped = \"last\"\nflipped = \"start, step down, from above, skip down, step up\"",
        "slur = \"1-2 5-next\"",
        "slur = \"5-next 1-2\"",
        "slur = \"next-2\"",
        "slur = \"6-next\"",
        "ghost = \"2\"\nfall = \"5\"\nscoop = \"1\"\ndoit = \"4\"",
        "fall = \"5\"\ndoit = \"5\"",
        "ghost = \"6\"",
    ]
    .map(figure);
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    insta::assert_snapshot!(told(&rows, &format!("title = \"A\"\n{SCALE}"), ""));
}

#[test]
fn own_words() {
    let rows = [
        "author = \"\"",
        "rights = 2026",
        "footer = \"a\\nb\"",
        "text = \"\"",
        "text = \"a\\u0007b\"",
        "text = \"\"\"\nSlowly at first.\n\nThen faster.\"\"\"\nauthor = \"A. Teacher\"\nrights = \"Copy freely\"\nfooter = \"Tuesday\"\nshow_moves = false\npaper = \"Letter\"",
        "show_moves = \"no\"",
        "paper = \"a5\"",
        "heading = \"Up\"",
        "[[exercise]]\nkind = \"sequence\"\nheading = \"\"\ntext = \"Listen.\"\nwords = { \"bar 3\" = \"listen\", \"statement 2\" = \"breathe\" }",
        "[[exercise]]\nkind = \"sequence\"\nheading = 3",
        "[[exercise]]\nkind = \"sequence\"\nwords = \"listen\"",
        "[[exercise]]\nkind = \"sequence\"\nwords = { \"beat 3\" = \"listen\", \"bar 0\" = \"x\", \"bar 1\" = \"\", \"bar 2\" = 3 }",
        "[[exercise]]\nkind = \"sequence\"\nwords = { \"bar 3\" = \"a\", \"Bar  3\" = \"b\" }",
        "[[exercise]]\nkind = \"scale\"\nwords = { \"statement 1\" = \"a\" }",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn for_whom() {
    let players = "[[player]]\nname = \"Window stand\"\ninstrument = \"flute\"\nlevel = \"beginner\"\n[[player]]\ninstrument = \"alto sax\"\n";
    let rows = [
        "[[exercise]]\nkind = \"scale\"\nfor = [\"beginner\", \"window stand\", \"Alto Saxophone\"]",
        "[[exercise]]\nkind = \"scale\"\nfor = \"beginner\"",
        "[[exercise]]\nkind = \"scale\"\nfor = []",
        "[[exercise]]\nkind = \"scale\"\nfor = [\"advanced\"]\n[[exercise]]\nkind = \"figure\"\nfor = [\"Windo stand\", \"oboe\"]",
    ];
    insta::assert_snapshot!(told(
        &rows,
        "title = \"A\"\n",
        &format!("{players}{SCALE}{FIGURE}")
    ));
}

/// Sheets on which the student would find everything written already.
#[test]
fn worksheets_that_ask_nothing() {
    let rows = [
        "[keys]\nonly = [\"C\"]\n[[exercise]]\nkind = \"write out\"",
        "[[exercise]]\nkind = \"write out\"\nkeys = [\"C\"]",
        "[[exercise]]\nkind = \"write out\"\nkeys = [\"C\", \"F\"]\ngiven = 2",
        "[[exercise]]\nkind = \"write out\"\nkeys = [\"C\", \"F\"]\ngiven = \"2 bars\"",
        "[[exercise]]\nkind = \"write out\"\nline = \"figure\"",
        "[[exercise]]\nkind = \"write out\"\nline = \"sequence\"\ngiven = 17",
        "[[exercise]]\nkind = \"write out\"\nline = \"intervals\"\nof = \"thirds\"\ngiven = 5",
        "[[player]]\ninstrument = \"flute\"\n[[player]]\nname = \"Window stand\"\ninstrument = \"oboe\"\nkeys = [\"C\"]\n[[exercise]]\nkind = \"write out\"",
        "[[exercise]]\nkind = \"write out\"\ngiven = \"two bars\"",
        "[[exercise]]\nkind = \"write out\"\ngiven = \"200 bars\"",
        "[[exercise]]\nkind = \"write out\"\ngiven = \"2\"",
        // These ask something.
        "[[exercise]]\nkind = \"write out\"\nkeys = [\"C\", \"F\"]\ngiven = \"1 bar\"",
        "[[exercise]]\nkind = \"write out\"\nline = \"figure\"\ndirection = \"up and down\"",
        "[[exercise]]\nkind = \"write out\"\nline = \"sequence\"\ngiven = 16",
        "[[exercise]]\nkind = \"write out\"\nsay = \"sequence\"\nkeys = [\"C\"]",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

/// Words that musicians say for ours, and words of which one is wrong.
#[test]
fn other_words() {
    let rows = [
        "[[exercise]]\nkind = \"sequence\"\ncoming_down = \"inverted\"",
        "[[exercise]]\nkind = \"sequence\"\nvariant = \"inverted\"",
        "[[exercise]]\nkind = \"sequence\"\ndirection = \"ascending\"",
        "keys = \"circle of fifths\"",
        "keys = \"chromatic\"",
        "instruments = [\"bari\"]",
        "instruments = [\"clarinet\"]",
        // One wrong word is one mistake.
        "[[exercise]]\ntype = \"sequence\"",
        "[[exercise]]\nkind = \"intervals\"\ninterval = \"thirds\"",
        "[[player]]\nhorn = \"flute\"",
        "[changes]\nchords = \"| C7 | F7 |\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

/// Horns that the catalogue lacks, and how notes are called.
#[test]
fn own_instruments() {
    let rows = [
        "instruments = [\"keyed bugle\"]\n[[instrument]]\nname = \"Keyed Bugle\"\nsounds = \"Bb3\"\nrange = \"C4 to G5\"",
        "instruments = [\"keyed bugel\"]\n[[instrument]]\nname = \"Keyed Bugle\"\nrange = \"C4 to G5\"",
        "[[instrument]]\nrange = \"C4 to G5\"",
        "[[instrument]]\nname = \"flute\"\nrange = \"C4 to G5\"",
        "[[instrument]]\nname = \"Keyed Bugle\"\nclef = \"trebel\"\nsounds = \"low\"\nlike = \"bugel\"\nrange = \"C4-G5\"",
        "[[instrument]]\nname = \"Keyed Bugle\"\nrange = \"C4 to D4\"",
        "[[instrument]]\nname = \"Keyed Bugle\"\nrange = \"C0 to D9\"",
        "[[instrument]]\nname = \"Keyed Bugle\"\nbeginner = \"C4 to C5\"",
        "note_names = \"dutch\"",
        "large_print = \"yes\"",
        "labels = [\"degrees\", \"counts\", \"moves\", \"note names\", \"solfège\"]",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn keys_variants_and_studies() {
    let rows = [
        "[[exercise]]\nkind = \"keys\"\nsay = \"scale\"",
        "[[exercise]]\nkind = \"keys\"\nspan = \"one octave\"\nending = \"none\"",
        "[[exercise]]\nkind = \"sequence\"\nsay = \"figure\"",
        "[[exercise]]\nkind = \"scale\"\nvariant = \"flipped\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"fliped\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"sideways\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"all\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"flipped\"\nvariants = \"all\"",
        "[[exercise]]\nkind = \"figure\"\nvariants = []",
        "[[exercise]]\nkind = \"figure\"\nvariants = 3",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"begun on note 9\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"begun on note two\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"order 2 2\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"8 eighths later\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"in 3/5\"",
        "[[exercise]]\nkind = \"figure\"\nvariant = \"enclosed on 1 7\"",
        "[[exercise]]\nkind = \"intervals\"",
        "[[exercise]]\nkind = \"intervals\"\nof = \"third\"",
        "[[exercise]]\nkind = \"runs\"\nof = \"six\"\nsay = \"figure\"",
        "[[exercise]]\nkind = \"runs\"\nof = \"three\"\npattern = \"brokn\"",
        "[[exercise]]\nkind = \"sequence\"\nof = \"thirds\"\npattern = \"broken\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

/// A figure whose rhythm or size doesn't allow a variant.
#[test]
fn variants_that_cannot_be() {
    let rows = [
        "[figure]\ndegrees = \"1 2 3 4 5 6\"\n[[exercise]]\nkind = \"figure\"\nvariants = \"every order\"",
        "[figure]\nmeter = \"8/16\"\ndegrees = \"1 2 3 4 5\"\ncount = \"1 e & a 2\"\n[[exercise]]\nkind = \"figure\"\nvariant = \"half values\"",
        "[figure]\ndegrees = \"1 2 3 5 4\"\n[[exercise]]\nkind = \"figure\"\nvariants = \"every order\"\n[[exercise]]\nkind = \"sequence\"\nvariants = \"every order\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", SCALE));
}

/// Marks hold on to notes that are there.
#[test]
fn marks() {
    let rows = [
        "slur = \"2-3 4-5\"",
        "slur = \"3-2\"",
        "slur = \"1-3 2-3\"",
        "slur = \"1–2, 3\"",
        "slur = \"1-2\"\naccent = \"\"",
        "accent = 1",
        "accent = \"0 one 1 1\"",
        "staccato = \"1, 2, 3, 4\"",
        "tenuto = \"4\"",
        "acent = \"1\"",
    ];
    let figure = "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up, rest, step up\"\ncount = \"1 2 (3) 4\"\n";
    insta::assert_snapshot!(told(&rows, figure, ""));
}

/// Whole statements before each answer, and something to answer.
#[test]
fn bars_and_answers() {
    let rows = [
        "kind = \"trade\"\nwritten = 3",
        "kind = \"trade\"\nwritten = 4\nslashes = 1",
    ];
    let figure = "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\nlength = \"2 bars\"\n[[exercise]]\n";
    let trades = told(&rows, figure, "");
    let answers = told(
        &["answers = true"],
        "title = \"A\"\n",
        &format!("{SCALE}{FIGURE}"),
    );
    insta::assert_snapshot!(format!("{trades}\n\n{answers}"));
}

/// An ornament at the end needs something to lead to.
#[test]
fn trailing_ornaments() {
    let rows = [
        "[[exercise]]\nkind = \"sequence\"",
        "[[exercise]]\nkind = \"sequence\"\nending = \"none\"",
        "[[exercise]]\nkind = \"figure\"",
        "[[exercise]]\nkind = \"figure\"\ncoming_down = \"reversed\"",
    ];
    let figure = "[figure]\nmoves = \"start, step up, from below\"\n";
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{figure}")));
    let figure = "[figure]\nmoves = \"enclose, start, step up\"\n";
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{figure}")));
}

/// Degrees are looked for on the scale that an exercise plays.
#[test]
fn degrees_on_several_scales() {
    let text = "title = \"A\"\n[[scale]]\nname = \"dorian\"\n[[scale]]\nname = \"major pentatonic\"\n\
        [figure]\ndegrees = \"1 3 4\"\n[[exercise]]\nkind = \"sequence\"\n\
        [[exercise]]\nkind = \"sequence\"\nscale = \"major pentatonic\"\n";
    insta::assert_snapshot!(rendered(text));
}

#[test]
fn limits() {
    let exercises = "[[exercise]]\nkind = \"scale\"\n".repeat(201);
    let moves = format!("[figure]\nmoves = \"start{}\"", ", step up".repeat(256));
    let degrees = format!("[figure]\ndegrees = \"1{}\"", " 2".repeat(256));
    let instruments = format!("instruments = [{}]", "\"flute\", ".repeat(101));
    let count = format!(
        "[figure]\nmoves = \"start\"\ncount = \"1{}\"",
        " ".repeat(4_000)
    );
    let long = "#".repeat(1_000_001);
    let head = "title = \"A\"\n";
    let lessons = [
        format!("{head}{SCALE}{FIGURE}{exercises}"),
        format!("{head}{SCALE}{moves}"),
        format!("{head}{SCALE}{degrees}"),
        format!("{head}{instruments}\n{SCALE}{FIGURE}"),
        format!("{head}{SCALE}{count}"),
        long,
    ];
    let told: Vec<String> = lessons
        .iter()
        .map(|text| {
            let line = rendered(text);
            // The words themselves are too long to print here.
            let (place, rest) = line.split_once(' ').unwrap();
            format!(
                "{place} {}",
                rest.split(" — ").skip(1).collect::<Vec<_>>().join(" — ")
            )
        })
        .collect();
    insta::assert_snapshot!(told.join("\n"));
}

/// Changes that aren't clear, and words that only hold over changes.
#[test]
fn over_changes() {
    let rows = [
        "[changes]\nkey = \"H\"\nbars = \"| C7 | Fx |\"",
        "[changes]\nmeter = \"4\"\nbars = \"| C7 |\"",
        "[changes]\nkey = \"C\"",
        "[changes]\nbars = \"| N.C. |\"",
        "[changes]\nbars = \"| C7 |\"\nlead_sheet = \"a.musicxml\"",
        "[changes]\nlead_sheet = \"a.musicxml\"",
        "[changes]\nlead_sheet = \"a.musicxml\"\npart = 0",
        "[changes]\nbars = \"| C7 |\"\npart = 7",
        "[changes]\nbars = \"| C7 |\"\n[choose]\n\"H7\" = \"dorian\"",
        "[changes]\nbars = \"| C7 |\"\n[choose]\n\"7\" = \"dorain\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nplan = \"two bars\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nchoruses = [\"slashes\"]",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nweights = { smooth = 6 }",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nspan = \"one octave\"",
        "[changes]\nmeter = \"3/4\"\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"",
        "[changes]\nbars = \"| C7 |\"\n[choose]\n\"Db7\" = \"altered\"\n\"bar 2\" = \"altered\"",
        "[changes]\nbars = \"| C7 |\"\n[choose]\n\"7 upwards\" = \"altered\"",
        "[changes]\nform = \"A\"\n[[section]]\nname = \"A\"\nbars = \"| C7 |\"\n[[section]]\nname = \"B\"\nbars = \"| F7 |\"\n[[section]]\nbars = \"| G7 |\"",
        "[changes]\nbars = \"| C7 |\"\nform = \"A\"",
        "[changes]\nform = \"A A B\"\n[[section]]\nname = \"A\"\nbars = \"| C7 |\"\ntimes = 2",
        "[changes]\nform = \"A Bridge\"\n[[section]]\nname = \"A\"\nbars = \"| C7 |\"\n[[section]]\nname = \"Bridg\"\nbars = \"| F7 |\"\n[[section]]\nbars = \"| G7 |\"",
        "[changes]\nform = []\n[[section]]\nname = \"A\"\nbars = \"| C7 |\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nbegins = \"1 9\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nbegins = \"root\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"guide tones\"\nbegins = \"1\"",
        "[[exercise]]\nkind = \"sequence\"\nbegins = \"1\"\nfigures = [\"cell\"]",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nfigures = [\"cell\"]",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nfigure = \"cell\"\nfigures = [\"cell\"]",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nfigures = []",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nconnect = \"runs\"",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nconnect = \"run\"\nshift = \"over the bar\"\nanticipate = true",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nshift = true",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nweights = { connect = 3 }",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"changes\"\nconnect = \"none\"\nweights = { connect = 3, phrase = 6, hight_point = 1 }",
        "[changes]\nbars = \"| C7 |\"\n[[exercise]]\nkind = \"targets\"\nconnect = \"run\"\nshift = \"over the bar\"\nweights = { phrase = 2, high_point = 1, connect = 2 }",
        "[[exercise]]\nkind = \"sequence\"\nconnect = \"run\"",
        "[[exercise]]\nkind = \"guide tones\"",
        "[[exercise]]\nkind = \"scale\"\nplan = \"every bar\"",
        "[[section]]\nbars = \"| C7 |\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{FIGURE}")));
}

#[test]
fn a_key_that_means_nothing_is_taken_for_none_whose_value_it_lacks() {
    // `say`, the nearest, takes words: nothing is told of a list for it.
    let text = format!(
        "title = \"A\"\n{SCALE}{FIGURE}[[exercise]]\nkind = \"sequence\"\nvary = [\"flipped\"]\n"
    );
    let mistakes = lesson_text::read(&text, "a").unwrap_err();
    let messages: Vec<_> = mistakes.iter().map(|mistake| &mistake.message).collect();
    assert_eq!(messages, ["[[exercise]] knows no vary"]);
    assert!(
        !mistakes[0].help.contains("did you mean"),
        "{}",
        mistakes[0].help
    );
}
