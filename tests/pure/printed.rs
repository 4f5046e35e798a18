//! Sheets and panels on a terminal, line by line. The layout is our own; the amounts are invented
//! and worked out by hand.

use stillcall::{
    marks::{
        BodyPart::Hand,
        Facing::Away,
        LandingOn::Feet,
        Manner,
        Phase::{self, Support},
        What,
    },
    report::{self, score_sheet},
    rulebook::Book,
    sheet::{ScoreSheet, attempts_together, panel, score},
    units::Points,
};

use crate::books::{
    ask::like_base,
    write::{Writer, write},
};

/// A handstand is asked for on beam at 0.5; judges may differ by 0.5.
fn beam(rest: &str) -> Book {
    like_base(&format!(
        "[[requirement]]\nid = \"upside\"\nlabel = \"Upside down\"\nevents = \"beam\"\nprice = 0.5\n\
         tags = \"handstand\"\n\n\
         [[panel]]\nevents = \"beam\"\nallowed = [{{ from = 0.0, difference = 0.5 }}]\n{rest}\n"
    ))
}

fn by(book: &Book, judge: &str, routine: Writer) -> ScoreSheet {
    let mut sheaf = routine.done();
    sheaf.routine.judge = judge.into();
    score(book, &sheaf)
}

fn judges(book: &Book) -> [ScoreSheet; 3] {
    let routine = || write("beam", "low");
    let handstand = What::Element { element: "handstand".into() };
    [
        by(book, "J-1", routine().does(&["handstand"]).fault("feet", None)),
        by(book, "J-2", routine().maybe(handstand)),
        by(book, "J-3", routine().does(&["roll"])),
    ]
}

/// A line of the table.
#[test]
fn a_panel_is_printed_judge_by_judge() {
    let book = beam("");
    let together = panel(&book, &judges(&book), Some(Points(9_500))).unwrap();
    let printed = report::together(&together).text();
    // A handstand in doubt is the athlete's; (9.9 + 10.0 + 9.5) / 3 = 9.8.
    let rows = [
        "\n  The mean of all judges counts.\n",
        "             Start value  Off     Score   Range\n",
        "  J-1        10.000       −0.100  9.900   9.900\n",
        "  J-2        10.000       0.000   10.000  9.500 to 10.000\n",
        "  J-3        9.500        0.000   9.500   9.500\n",
        "  reference                       9.500\n",
        "  The score is 9.800; the reference 9.500 lies within what is allowed.\n",
        "\nWhere the judges differ\n",
        "               J-1     J-2     J-3\n",
        "  Start value  10.000  10.000  9.500\n",
        "  Upside down  met     close   missing\n",
        "  Taken off    0.100   0.000   0.000\n",
    ];
    assert!(printed.contains(&rows.concat()), "{printed}");
    let standing = printed.lines().nth(1).unwrap();
    assert_eq!(standing, "Beam, Low", "the sheet of a panel is of no one judge");
}

#[test]
fn judges_who_agree_differ_nowhere() {
    let book = beam("combine = \"drop-ends\"");
    let all = ["J-1", "J-2", "J-3"].map(|judge| by(&book, judge, write("beam", "low")));
    let printed = report::together(&panel(&book, &all, None).unwrap()).text();
    assert!(!printed.contains("differ") && !printed.contains("reference"), "{printed}");
    let said = "The highest and the lowest are left out; the mean of the rest counts.\n";
    assert!(printed.contains(said) && printed.contains("\n  The score is 9.500.\n"), "{printed}");
}

#[test]
fn each_way_of_a_panel_is_said_in_its_own_words() {
    let how = |keys: &str, reference| {
        let book = beam(keys);
        let together = panel(&book, &judges(&book), reference).unwrap();
        (together.how, together.said)
    };
    let (middle, too_few) = how("combine = \"middle\"\nmiddle = 2", None);
    assert_eq!(middle, "The mean of the 2 in the middle counts.");
    assert_eq!(too_few, "There are too few scores to leave out the highest and lowest.");
    let far = Some(Points(9_000));
    assert_eq!(
        how("", far).1,
        "The panel's 9.800 lies too far from the reference 9.000: the judges confer."
    );
    assert_eq!(
        how("beyond = \"average\"", far).1,
        "The panel's 9.800 lies too far from the reference 9.000; the mean of both, 9.400, counts."
    );
}

/// What bears weight on the vault makes it void, and so does help.
fn vault() -> Book {
    like_base(
        "[[when]]\nid = \"bore\"\nlabel = \"Bore weight\"\nmark = \"contact\"\n\
         manners = \"support\"\nvoid = true\n\n\
         [[when]]\nid = \"help\"\nlabel = \"Help\"\nmark = \"spot\"\nvoid = true\n\n\
         [[attempts]]\nevents = \"vault\"\ntake = \"best\"\n\n[[panel]]\nevents = \"vault\"\n",
    )
}

fn over(book: &Book, judge: &str, with: impl Fn(Writer) -> Writer) -> ScoreSheet {
    by(book, judge, with(write("vault", "low").hands(0)).lands(Feet, Away, 0))
}

fn touched(phase: Phase, manner: Manner) -> impl Fn(Writer) -> Writer {
    move |routine| routine.touches(Hand, phase, manner)
}

#[test]
fn what_may_be_void_and_what_is_void_are_told_apart() {
    let book = vault();
    let doubt = over(&book, "J-1", touched(Support, Manner::CantTell));
    let void = over(&book, "J-1", |routine| routine.seen(What::Spot));
    let clean = over(&book, "J-1", |routine| routine);
    let together = attempts_together(&book, &[doubt.clone(), void.clone(), clean]).unwrap();
    let printed = report::together(&together).text();
    let rows = [
        "  attempt 1  10.000       0.000  10.000  10.000 or void\n",
        "  attempt 2  10.000       0.000  void    void\n",
        "  attempt 3  10.000       0.000  10.000  10.000\n",
    ];
    assert!(printed.contains(&rows.concat()), "{printed}");
    let open = format!(
        "  {:<46}   10.000 or void\n\nClose calls that change the score\n  Brush or support: the hand, \
         frame 20",
        "Range over close calls"
    );
    assert!(score_sheet(&doubt).text().contains(&open), "{}", score_sheet(&doubt).text());
    let said = score_sheet(&void).text();
    assert!(said.contains("   void\n") && !said.contains("or void"), "{said}");
    let of_judges = [doubt, over(&book, "J-2", |routine| routine.seen(What::Spot))];
    let differ = panel(&book, &of_judges, None).unwrap().differ;
    let parts: Vec<(&str, &[String])> =
        differ.iter().map(|part| (part.part.as_str(), &part.said[..])).collect();
    assert_eq!(parts, [("Void", &["not void".to_owned(), "void".to_owned()][..])]);
}

#[test]
fn deductions_and_remarks_are_printed_with_their_reasons() {
    let book = like_base(
        "[[fault]]\nid = \"late\"\nlabel = \"Late\"\namount = 0.2\nwhere = \"p. 3\"\n\n\
         [[element]]\nid = \"turn\"\nname = \"Turn\"\nevent = \"beam\"\nclass = \"a\"\n\
         moments = \"heel_drop\"\n",
    );
    let page = score_sheet(&score(
        &book,
        &write("beam", "low").does(&["turn"]).fault("late", None).done(),
    ))
    .text();
    let name = |name: &str, amount: &str, frames: &str| format!("{name:<46} {amount:>8}  {frames}");
    let deductions = [
        "\nDeductions\n  Turn\n  − ",
        &name("Late", "−0.200", "frame 20 (0.667 s)"),
        "\n      After the beginning of Turn. (p. 3)\n",
    ];
    let remark = "\nRemarks\n  A moment still to be set, frame 10 (0.333 s). Turn: the heel drop \
                  is not set yet.\n";
    assert!(page.contains(&deductions.concat()), "{page}");
    assert!(page.contains(remark), "{page}");
}
