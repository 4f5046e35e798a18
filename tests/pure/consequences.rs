//! What a sheet says where a routine does not fit the book: the day, the list, what ended a turn.
//! The amounts are these tests' own; the rules are common practice, no source.

use stillcall::{
    marks::{
        Facing::Away,
        LandingOn::Feet,
        Quantity::Turn,
        Sheaf,
        What::{HandContact, HeelDrop},
    },
    report,
    report::score_sheet,
    rulebook::{Book, Decides, TurnEnd},
    sheet::{ScoreSheet, Status, score},
    units::Points,
};

use crate::books::{
    ask::{example, like_base, points},
    write::{Writer, write},
};

#[test]
fn a_routine_outside_the_days_of_an_edition_is_scored_with_a_warning() {
    // The example holds from the first to the last day of 2026.
    let book = example("edition");
    let on = |date: &str| {
        let mut sheaf = write("bars", "low").does(&["kip"]).fault("feet", None).done();
        sheaf.routine.date = date.into();
        let sheet = score(&book, &sheaf);
        assert_eq!(sheet.score, Some(points("9.9")), "{date}");
        sheet.remarks.into_iter().map(|line| line.reason).collect::<Vec<_>>()
    };
    for inside in ["2026-01-01", "2026-07-01", "2026-12-31", ""] {
        assert_eq!(on(inside), [""; 0], "{inside}");
    }
    for outside in ["2025-12-31", "2027-01-01"] {
        let said = format!("{outside} lies outside this edition, 2026-01-01 to 2026-12-31");
        assert!(on(outside)[0].contains(&said), "{:?}", on(outside));
    }
}

#[test]
fn an_edition_without_days_never_warns() {
    let mut sheaf = write("bars", "low").done();
    sheaf.routine.date = "1987-06-05".into();
    assert_eq!(score(&like_base(""), &sheaf).remarks, []);
}

#[test]
fn a_sheet_names_the_text_that_it_was_scored_under() {
    // Twelve hex digits of BLAKE3 are enough to tell two texts of one edition apart.
    let sheet = score(&example("flat"), &write("beam", "low").done());
    let short = &sheet.standing.book_hash[..12];
    assert!(short.bytes().all(|digit| digit.is_ascii_hexdigit()));
    let said = format!("The same amount each time, edition 1 ({short})\n");
    assert!(score_sheet(&sheet).text().contains(&said), "{}", score_sheet(&sheet).text());
    let page = score_sheet(&sheet).html();
    assert!(page.contains(&said.replace('\n', "</p>")), "{page}");
}

/// Returns the base book with what follows from something set for both events.
fn following(key: &str, word: &str) -> Book {
    let amount = if word == "amount" { format!("{key}_amount = 0.4\n") } else { String::new() };
    like_base(&format!(
        "[[division]]\nid = \"low\"\nname = \"Low\"\nhighest_class = \"a\"\n\n\
         [[scoring]]\nformula = \"start-minus\"\nstart = 10.0\n{key} = \"{word}\"\n{amount}\n\
         [[element]]\nid = \"half-on\"\nname = \"Half on\"\nevent = \"vault\"\n\
         vault = {{ value = 9.0, before = 180 }}\n"
    ))
}

#[test]
fn what_is_not_allowed_not_listed_or_not_announced_brings_what_the_book_says() {
    let vault = |turn: u16| write("vault", "low").hands(turn).lands(Feet, Away, 0).done();
    let announced = || {
        let written = write("vault", "low").does(&["over"]).hands(180);
        written.lands(Feet, Away, 0).done()
    };
    // A class above the division's; a quarter on, which no vault of the book has; another vault
    // than the one written down, which brings its own 9.0.
    let kinds: [(&str, &str, &str, Sheaf); 3] = [
        ("not_allowed", "not-allowed", "10.0", write("beam", "low").does(&["full-turn"]).done()),
        ("unlisted_vault", "unlisted-vault", "10.0", vault(90)),
        ("not_as_announced", "not-as-announced", "9.0", announced()),
    ];
    for (key, rule, from, sheaf) in kinds {
        let from = points(from);
        let of = |word: &str| score(&following(key, word), &sheaf);
        let says = |sheet: &ScoreSheet| {
            let lines = sheet.deductions.iter().chain(&sheet.void_reasons).chain(&sheet.remarks);
            lines.filter(|line| line.rule == rule).map(|line| line.amount).collect::<Vec<_>>()
        };
        let (free, costly, void) = (of("no-credit"), of("amount"), of("void"));
        assert_eq!(free.score, Some(from), "{key}");
        assert_eq!(costly.score, Some(from - points("0.4")), "{key}");
        assert_eq!((void.score, void.void), (None, true), "{key}");
        assert_eq!(
            (says(&costly), says(&void)),
            (vec![points("0.4")], vec![Points::ZERO]),
            "{key}"
        );
        // Without an amount it is still said: of an element in its own line.
        let in_line = free.elements.iter().any(|line| line.reason.contains("may not use it"));
        assert_eq!(
            (says(&free).len(), in_line),
            if key == "not_allowed" { (0, true) } else { (1, false) }
        );
    }
}

/// Returns the turn example with other words for what decides and what ends it.
fn turning(decides: &str, ends: &str) -> Book {
    like_base(&format!(
        "[[angle]]\nid = \"half-turn\"\nlabel = \"Half turn\"\nevents = \"beam\"\n\
         elements = \"half-turn\"\nquantity = \"turn\"\ntarget = 90\nside = \"above\"\n\
         decides = \"{decides}\"\nends = \"{ends}\"\ngates = [\"value-part\"]\n"
    ))
}

#[test]
fn every_word_of_what_decides_a_turn_and_ends_it_is_read_and_stands_on_the_card() {
    // A jump has no heel that drops, so that the default end says nothing there.
    let decides = [
        ("turning-foot", Decides::TurningFoot, "by the turning foot", true),
        ("front-foot", Decides::FrontFoot, "by the front foot", false),
        ("hips-and-shoulders", Decides::HipsAndShoulders, "by hips and shoulders", false),
    ];
    let ends = [
        ("first-heel-drop", TurnEnd::FirstHeelDrop, "to the first heel drop"),
        ("free-foot-down", TurnEnd::FreeFootDown, "to the free foot coming down"),
        ("second-hand", TurnEnd::SecondHand, "to the second hand taking hold"),
    ];
    for (word, decided, by, heel) in decides {
        for (end, ended, to) in ends {
            let book = turning(word, end);
            assert_eq!((book.angles[0].decides, book.angles[0].ends), (Some(decided), ended));
            let card = report::card(&book, "beam", "low").unwrap().document().text();
            let said = if ended == TurnEnd::FirstHeelDrop && !heel {
                format!("above 90°; {by}; no value part")
            } else {
                format!("above 90°; {by}, {to}; no value part")
            };
            assert!(card.contains(&said), "{said} in {card}");
        }
    }
}

#[test]
fn only_a_turn_that_a_heel_ends_is_told_when_it_was_read_after_one() {
    // The dropped heel ends the turn (from memory). That the free foot came down, or which hand
    // was the second, is no mark, so that nothing is claimed of it.
    let told = |ends: &str, marks: &dyn Fn(Writer) -> Writer| {
        let turn = marks(write("beam", "low").does(&["half-turn"])).reads(Turn, 91.0, 0.0);
        let sheet = score(&turning("hips-and-shoulders", ends), &turn.done());
        assert_eq!(sheet.elements[0].decisions[0].status, Some(Status::Met));
        sheet.remarks.iter().any(|line| line.rule == "turn-end")
    };
    let heel = |writer: Writer| writer.seen(HeelDrop);
    let hands = |writer: Writer| {
        let hand = || HandContact { turn: None };
        writer.seen(hand()).seen(hand())
    };
    assert!(told("first-heel-drop", &heel));
    assert!(!told("first-heel-drop", &hands));
    for other in ["free-foot-down", "second-hand"] {
        assert!(!told(other, &heel) && !told(other, &hands), "{other}");
    }
}

#[test]
fn a_turn_counts_by_its_edge_whatever_decides_it() {
    // As typed: above 90 and not at 90.
    for decides in ["turning-foot", "front-foot", "hips-and-shoulders"] {
        let counts = |degrees| {
            let turn = write("beam", "low").does(&["half-turn"]).reads(Turn, degrees, 0.0);
            let sheet = score(&turning(decides, "free-foot-down"), &turn.done());
            sheet.elements[0].decisions[0].status
        };
        assert_eq!(
            (counts(90.0), counts(90.1)),
            (Some(Status::Missed), Some(Status::Met)),
            "{decides}"
        );
    }
}
