//! What is wrong in a count, and what is told of it.

use crate::{check, read};

fn check_mistakes(meter: &str, count: &str, length: &str, expected: &[&str]) {
    let mistakes = read(meter, count, length).expect_err(count);
    let found: Vec<&str> = mistakes
        .lines()
        .map(|line| line.split(';').next().unwrap())
        .collect();
    assert_eq!(found, expected, "{meter}: {count} {length}");
}

#[test]
fn mistakes() {
    check_mistakes("4/4", "1 2 5", "", &["[5] there is no 5 in 4/4"]);
    check_mistakes(
        "4/4",
        "3 1",
        "",
        &["[1] 1 comes after what was counted before it"],
    );
    check_mistakes(
        "4/4",
        "1 1",
        "",
        &["[1] 1 comes after what was counted before it"],
    );
    check_mistakes(
        "4/4",
        "1 & e 2 &",
        "",
        &["[e] “e” comes too late: more of beat 1 is counted already"],
    );
    check_mistakes(
        "4/4",
        "1 & let",
        "",
        &["[let] beat 1 is counted in thirds and in halves or quarters"],
    );
    check_mistakes(
        "4/4",
        "one 2 tree",
        "",
        &[
            "[one] “one” is no word of a count",
            "[tree] “tree” is no word of a count",
        ],
    );
    // Every mistake at once, and none that is only another's echo.
    check_mistakes(
        "4/4",
        "1 und 2 5 & 3 1",
        "two bars",
        &[
            "[und] “und” is no word of a count",
            "[5] there is no 5 in 4/4",
            "[1] 1 comes after what was counted before it",
            "[two bars] “two” is no number of bars or beats",
        ],
    );
    check_mistakes("4/4", "1 (x) | 2", "", &["[x] “x” is no word of a count"]);
    check_mistakes("4/4", "(7) | 2", "", &["[7] there is no 7 in 4/4"]);
    // Sixty-fourths are the finest values there are.
    check_mistakes(
        "5/32",
        "1 e 2 a",
        "",
        &[
            "[e] “e” is finer than a 64th in 5/32",
            "[a] “a” is finer than a 64th in 5/32",
        ],
    );
    check(
        "5/32",
        "1 & 2 trip",
        "",
        "0+1/16 1/16+1/16 1/8+1/24 1/6+11/24",
    );
    check(
        "7/16",
        "1 e & a 2",
        "",
        "0+1/16 1/16+1/16 1/8+1/16 3/16+1/16 1/4+3/2",
    );
    check_mistakes("4/4", "1 (2", "", &["[(] this ( is never closed"]);
    check_mistakes("4/4", "1 2)", "", &["[)] this ) closes nothing"]);
    check_mistakes("4/4", "1 ()", "", &["[()] these parentheses hold nothing"]);
    check_mistakes(
        "4/4",
        "1 ((2))",
        "",
        &[
            "[(] this ( stands inside another",
            "[)] this ) closes nothing",
        ],
    );
    check_mistakes("4/4", "", "", &["[] nothing is counted"]);
    check_mistakes(
        "4/4",
        "-1 2",
        "",
        &["[-1] nothing comes before this that could be held"],
    );
    check_mistakes(
        "4/4",
        "1 (2) -3",
        "",
        &["[-3] silence comes before this, and can't be held as a note"],
    );
    check_mistakes(
        "4/4",
        "1 (-2) 3-5",
        "",
        &[
            "[-2] a note that is held isn't silent",
            "[5] there is no 5 in 4/4",
        ],
    );
    check_mistakes(
        "4/4",
        "1--2 (3-) 4-",
        "",
        &[
            "[-] no count comes after this hyphen",
            "[-] no count comes after this hyphen",
            "[-] no count comes after this hyphen",
        ],
    );
    check_mistakes(
        "4/4",
        "1-(2)",
        "",
        &["[-] no count comes after this hyphen"],
    );
    check_mistakes("4/4", "1 (2) x-3 4", "", &["[x] “x” is no word of a count"]);
    check_mistakes(
        "4/4",
        "| 1",
        "",
        &["[|] nothing is counted before this bar line"],
    );
    check_mistakes(
        "4/4",
        "& 1",
        "",
        &["[&] there is no beat before this to part"],
    );
    check_mistakes("4/4", "0 1", "", &["[0] there is no 0 in 4/4"]);
    // No bar has a thousand beats: a slip of the finger, not a count.
    check_mistakes(
        "4/4",
        "1 1000",
        "",
        &["[1000] “1000” is no word of a count"],
    );
    check_mistakes(
        "4/4",
        "(4) | 1 2",
        "",
        &["[4] nothing sounds in this pickup"],
    );
    check_mistakes(
        "4/4",
        "(3 & 4) | 1",
        "",
        &["[3 & 4] nothing sounds in this pickup"],
    );
    check("4/4", "(3) 4 | 1", "", "(-2+1) -1+1 0+2 pickup 2");
    check_mistakes(
        "4/4",
        "1 2 3",
        "1 beat",
        &["[1 beat] “1 beat” is shorter than the count"],
    );
    check_mistakes(
        "4/4",
        "1 | 1",
        "1 bar",
        &["[1 bar] “1 bar” is shorter than the count"],
    );
    check_mistakes(
        "4/4",
        "1",
        "two bars",
        &["[two bars] “two” is no number of bars or beats"],
    );
    for none in ["0 bars", "-1 beats"] {
        let number = none.split(' ').next().unwrap();
        let expected = format!("[{none}] “{number}” is no number of bars or beats");
        check_mistakes("4/4", "1", none, &[&expected]);
    }
    // 64 bars are 256 beats of 4/4, but 128 of 6/8.
    check_mistakes(
        "6/8",
        "1",
        "130 beats",
        &["[130 beats] a figure lasts 64 bars at most"],
    );
    check_mistakes(
        "4/4",
        "1",
        "65 bars",
        &["[65 bars] a figure lasts 64 bars at most"],
    );
    check("6/8", "1", "128 beats", "0+192 span 192");
    check("4/4", "1", "256 beats", "0+256 span 256");
    check("4/4", "1", "64 bars", "0+256 span 256");
    check_mistakes(
        "4/4",
        "1",
        "2 bananas",
        &["[2 bananas] “bananas” is neither bars nor beats"],
    );
    check_mistakes(
        "4/4",
        "1",
        "900 bars",
        &["[900 bars] a figure lasts 64 bars at most"],
    );
    check_mistakes(
        "4/4",
        "1",
        "9223372036854775807 beats",
        &["[9223372036854775807 beats] a figure lasts 64 bars at most"],
    );
    check_mistakes(
        "4/4",
        "4 | 1",
        "3 beats",
        &["[3 beats] a figure with a pickup repeats in whole bars"],
    );
    check_mistakes(
        "4/4",
        "4 | 1 2 3 4",
        "1 bar",
        &["[1 bar] “1 bar” is shorter than the count"],
    );
}

/// What to write instead, where that goes by what was written.
#[test]
fn helps() {
    let check = |meter: &str, count: &str, length: &str, expected: &str| {
        let mistakes = read(meter, count, length).expect_err(count);
        let (_, help) = mistakes.split_once("; ").unwrap();
        assert_eq!(help, expected, "{meter}: {count} {length}");
    };
    check("4/4", "1 1", "", "say 1 once, and part it with & or e & a");
    check(
        "4/4",
        "3 1",
        "",
        "write | before it if a new bar begins there: | 1",
    );
    // How far in the last count lies: felt beats, a pickup among them.
    let into = |beats: &str| {
        format!(
            "the last count is {beats} into the figure: say more than that, or leave `length` out"
        )
    };
    check("4/4", "1 2 3", "1 beat", &into("2 beats"));
    check("4/4", "2 3", "1 beat", &into("1 beat"));
    check("6/8", "1 4", "1 beat", &into("1 beat"));
    check("6/8", "1 2 3 6 | 1", "1 bar", &into("2 beats"));
    check("4/4", "4 | 1 2 3 4", "1 bar", &into("4 beats"));
}
