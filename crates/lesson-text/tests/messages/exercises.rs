//! Mistakes in exercises.

use super::*;

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
