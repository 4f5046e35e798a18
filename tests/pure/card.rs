//! The judge's card and the chart of elements.

use stillcall::{report, rulebook};

use crate::books::{P, ask::example, book};

#[test]
fn the_card_holds_what_the_division_is_asked_and_nothing_of_another() {
    // The figures are those typed in test book P.
    let card = report::card(&book(P), "beam", "d2").unwrap();
    let angles = card.sections.iter().find(|section| section.title == "Angles").unwrap();
    assert!(angles.rows.iter().any(|row| row.says.starts_with("at least 90°")), "{angles:?}");
    let text = card.text();
    assert!(text.contains("Start value 10.0"));
    assert!(!text.contains("150°"), "{text}");
    assert!(report::card(&book(P), "beam", "d9").is_none());
}

#[test]
fn a_rule_that_voids_stands_under_void() {
    let card = report::card(&book(P), "vault", "d1").unwrap();
    let void = card.sections.iter().find(|section| section.title == "Void and not allowed");
    assert!(void.unwrap().rows.iter().any(|row| row.says == "void"));
}

#[test]
fn the_page_of_every_card_of_the_league_escapes_and_fetches_nothing() {
    let book = rulebook::load(rulebook::shipped()[0]).unwrap();
    for event in book.events() {
        for division in book.divisions_of(&event.id) {
            let card = report::card(&book, &event.id, &division.id).unwrap();
            let page = report::card_page(&card);
            assert!(!page.contains("http") && !page.contains("NaN"), "{}", card.title);
            // Two columns of about 60 lines are an A4 page at 8 points.
            let lines: usize = card.sections.iter().map(|section| section.rows.len() + 2).sum();
            assert!(lines <= 100, "{}: {lines} rows", card.title);
        }
    }
}

#[test]
fn the_chart_shows_where_an_element_stops_being_allowed() {
    // Listed for the second and third division in test book P.
    let chart = report::chart(&book(P), "bars").unwrap().text();
    let head = chart.lines().nth(2).unwrap();
    let line = chart.lines().find(|line| line.contains("half turn")).unwrap();
    assert_eq!(line.matches("yes").count(), 2, "{head}\n{line}");
    assert!(report::chart(&book(P), "rings").is_none());
}

#[test]
fn only_faults_that_differ_stand_on_the_card() {
    // In test book P extra swings are counted in the fourth and fifth division only; bent legs
    // cost the same in all of them.
    let rows = |division| {
        let card = report::card(&book(P), "bars", division).unwrap();
        card.text()
    };
    let (third, fourth) = (rows("d3"), rows("d4"));
    assert!(!third.contains("Bent legs") && third.contains("as in every division"), "{third}");
    let swing =
        |text: &str| text.lines().find(|line| line.contains("Extra swing")).unwrap().to_owned();
    assert!(swing(&third).contains("not counted here"), "{third}");
    assert!(swing(&fourth).contains("0.3"), "{fourth}");
}

#[test]
fn a_fault_that_differs_stands_with_its_words_and_the_signal_with_its_time() {
    let boundary = report::card(&example("composition"), "beam", "low").unwrap().text();
    let high = report::card(&example("composition"), "beam", "high").unwrap().text();
    assert!(boundary.contains("not counted here") && high.contains("up to 0.2, once"), "{high}");
    let times = report::card(&example("times"), "beam", "low").unwrap().text();
    assert!(times.contains("signal at 80 s"), "{times}");
    let void = report::card(&example("void"), "vault", "low").unwrap().text();
    assert!(void.contains("Never came through vertical"), "{void}");
    let text = report::card(&example("compulsory"), "bars", "low").unwrap().text();
    assert!(text.contains("kip, cast, hip-circle, circle-dismount"), "{text}");
}

#[test]
fn a_turn_says_on_the_card_what_decides_it() {
    let turn = report::card(&example("turn"), "beam", "low").unwrap().text();
    assert!(turn.contains("by the turning foot, to the first heel drop"), "{turn}");
}

#[test]
fn the_vaults_of_the_division_stand_with_their_start_values() {
    // As typed in the example: 9.4 in the higher division.
    let card = |division| report::card(&example("start-by-variant"), "vault", division).unwrap();
    let value = |division| {
        let text = card(division).text();
        text.lines().find(|line| line.contains("Half on")).unwrap().trim_end().to_owned()
    };
    assert!(value("low").ends_with("10.0") && value("high").ends_with("9.4"), "{}", value("high"));
}
