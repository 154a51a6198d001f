//! Mistakes in the head, of keys and of players.

use super::*;

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
