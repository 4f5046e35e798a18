//! The judge's card and the chart of elements.

use stillcall::{marks::Quantity::Split, report, rulebook, sheet::score};

use crate::books::{
    P,
    ask::{example, like_base, off, points},
    book,
    write::write,
};

#[test]
fn the_card_holds_what_the_division_is_asked_and_nothing_of_another() {
    // The figures are those typed in test book P.
    let card = report::card(&book(P), "beam", "d2").unwrap();
    let angles = card.sections.iter().find(|section| section.title == "Angles").unwrap();
    assert!(angles.rows.iter().any(|row| row.says.starts_with("at least 90°")), "{angles:?}");
    let text = card.document().text();
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
    for event in &book.events {
        for division in book.divisions_of(&event.id) {
            let card = report::card(&book, &event.id, &division.id).unwrap();
            let page = card.document().html();
            assert!(!page.contains("http") && !page.contains("NaN"), "{}", card.title);
            // Two columns of about 60 lines are an A4 page at 8 points.
            let lines: usize = card.sections.iter().map(|section| section.rows.len() + 2).sum();
            assert!(lines <= 100, "{}: {lines} rows", card.title);
        }
    }
}

#[test]
fn a_page_is_a_table_too() {
    // RFC 4180: a field that holds a comma stands in quotes; read here by the rule, not by a crate.
    let chart = report::chart(&book(P), "bars").unwrap();
    let (rows, table) = (chart.csv(), chart.text());
    let quoted = |line: &str| line.matches('"').count().is_multiple_of(2);
    assert!(rows.lines().all(quoted), "{rows}");
    let head: Vec<&str> = rows.lines().next().unwrap().split(',').collect();
    assert_eq!(&head[..5], ["", "", "Element", "Class", "Page"]);
    let named = |text: &str| text.lines().filter(|line| line.contains("swing")).count();
    assert_eq!(named(&rows), named(&table));
    let card = report::card(&book(P), "beam", "d2").unwrap().document().csv();
    assert!(card.lines().any(|line| line.starts_with("Angles,")), "{card}");
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
        card.document().text()
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
    let boundary = report::card(&example("composition"), "beam", "low").unwrap().document().text();
    let high = report::card(&example("composition"), "beam", "high").unwrap().document().text();
    assert!(boundary.contains("not counted here") && high.contains("up to 0.2, once"), "{high}");
    let times = report::card(&example("times"), "beam", "low").unwrap().document().text();
    assert!(times.contains("signal at 80 s"), "{times}");
    let void = report::card(&example("void"), "vault", "low").unwrap().document().text();
    assert!(void.contains("Never came through vertical"), "{void}");
    let text = report::card(&example("compulsory"), "bars", "low").unwrap().document().text();
    assert!(text.contains("Kip, Cast, Hip circle, Circle to dismount"), "{text}");
}

#[test]
fn a_turn_says_on_the_card_what_decides_it() {
    let turn = report::card(&example("turn"), "beam", "low").unwrap().document().text();
    assert!(turn.contains("by the turning foot, to the first heel drop"), "{turn}");
}

#[test]
fn the_vaults_of_the_division_stand_with_their_start_values() {
    // As typed in the example: 9.4 in the higher division.
    let card = |division| report::card(&example("start-by-variant"), "vault", division).unwrap();
    let value = |division| {
        let text = card(division).document().text();
        text.lines().find(|line| line.contains("Half on")).unwrap().trim_end().to_owned()
    };
    assert!(value("low").ends_with("10.0") && value("high").ends_with("9.4"), "{}", value("high"));
}

#[test]
fn the_card_says_where_credit_and_each_band_end_as_the_score_does() {
    // Credit is kept at exactly 20 degrees short (the guide's "up to so many degrees short"), and
    // a band that does not include its end leaves it to the next.
    let bands = "{ up_to = 12, inclusive = false, amount = 0.1 }, { over = 14, up_to = 30, \
                 proportional = { from = 0.1, to = 0.3, grid = 0.05 } }, { amount = 0.5 }";
    let split = |bands: &str| {
        let book = like_base(&format!(
            "[[angle]]\nid = \"split\"\nlabel = \"Split\"\nevents = \"beam\"\ntags = \"leap\"\n\
             quantity = \"split\"\ntarget = 120\nside = \"at-least\"\nround_to = 0.5\n\
             gates = [\"value-part\", \"requirement\"]\ngate_within = 20\nbands = [{bands}]\n\
             counts = \"once\"\n"
        ));
        let line =
            |text: String| text.lines().find(|line| line.contains("Split")).unwrap().to_owned();
        (line(report::card(&book, "beam", "low").unwrap().document().text()), book)
    };
    let (line, book) = split(bands);
    let says = "at least 120°; rounded to 0.5°; no value part, requirement beyond 20° short; \
                to under 12° short 0.1; over 14° to 30° short 0.1–0.3 in steps of 0.05; beyond 0.5, \
                once";
    assert!(line.ends_with(says), "{line}");
    let (line, _) = split("{ up_to = 12, inclusive = false, amount = 0.1 }, { amount = 0.5 }");
    assert!(line.ends_with("to under 12° short 0.1; from 12° short 0.5, once"), "{line}");
    let (line, _) = split("{ up_to = 12, amount = 0.1 }, { over = 15, amount = 0.5 }");
    assert!(line.ends_with("to 12° short 0.1; over 15° short 0.5, once"), "{line}");
    // The same edges in a score: 100 keeps credit, 99.5 does not; 12 short lies in no band.
    let at = |degrees| {
        let leap = write("beam", "low").does(&["leap"]).reads(Split, degrees, 0.0).done();
        let sheet = score(&book, &leap);
        (sheet.elements[0].reason.contains("earns no credit"), off(&sheet))
    };
    assert_eq!((at(100.0).0, at(99.5).0), (false, true));
    assert_eq!((at(108.5).1, at(108.0).1), (points("0.1"), points("0.0")));
}

#[test]
fn a_limit_says_on_the_card_over_what_it_is_taken_and_what_lifts_it() {
    let line = |kind: &str, event: &str, label: &str| {
        let text = report::card(&example(kind), event, "low").unwrap().document().text();
        text.lines().find(|line| line.contains(label)).unwrap().trim_end().to_owned()
    };
    let own = line("cap-per-element", "bars", "its worth and 0.5");
    assert!(own.ends_with("at most 0.5 and its worth, each element"), "{own}");
    let phase = line("phases", "vault", "Hips, at most");
    assert!(phase.ends_with("at most 0.3, each phase"), "{phase}");
    let lifted = line("cap-per-group", "beam", "Landing, at most");
    assert!(lifted.ends_with("at most 0.5, each element, not with Fall"), "{lifted}");
    // What is neutral says so wherever it stands.
    let mats = line("equipment", "vault", "Mats not between");
    assert!(mats.ends_with("0.3, off the whole score"), "{mats}");
    let short = line("times", "floor", "Shorter than 30 s");
    assert!(short.ends_with("2.0, off the whole score"), "{short}");
}

/// Returns the row of the card of the league that says this.
fn row_of(event: &str, label: &str) -> (report::CardRow, String) {
    let book = rulebook::load("saltmarsh").unwrap();
    let card = report::card(&book, event, "redshank").unwrap();
    let rows = card.sections.iter().flat_map(|section| &section.rows);
    let row = rows.filter(|row| row.angle.is_some()).find(|row| row.label == label).unwrap();
    let page = card.document().html();
    let html = page.split("<tr>").find(|line| line.contains(label) && line.contains("<svg"));
    (row.clone(), html.unwrap().to_owned())
}

#[test]
fn a_row_of_the_page_has_its_shorthand_its_page_and_its_figure() {
    // By hand, from straight up and clockwise, 10 long, y down. A split of 105 hangs down evenly:
    // 180 - 52.5 = 127.5 and 232.5. sin 127.5 = 0.793353, cos 127.5 = -0.608761.
    let (row, html) = row_of("beam", "Split in the leap");
    assert_eq!((row.shorthand.as_str(), row.page.as_str()), ("split", "p. 24"));
    assert!(html.contains("<td class=\"short\">split</td>"), "{html}");
    assert!(html.contains("<td class=\"page\">p. 24</td>"), "{html}");
    assert!(html.contains("aria-label=\"at least 105°\""), "{html}");
    let line = |class: &str, x: &str, y: &str| {
        format!("<line{class} x1=\"0\" y1=\"0\" x2=\"{x}\" y2=\"{y}\">")
    };
    assert!(html.contains(&line(" class=\"held\"", "7.9", "6.1")), "{html}");
    assert!(html.contains(&line("", "-7.9", "6.1")), "{html}");
    // A body line of 0 lies on the horizontal that it is held against.
    let (row, html) = row_of("bars", "Cast, body line");
    assert_eq!((row.shorthand.as_str(), row.page.as_str()), ("line", "p. 16"));
    assert!(html.contains("aria-label=\"at least 0°\""), "{html}");
    assert!(html.contains(&line(" class=\"held\"", "10.0", "0.0")), "{html}");
    assert!(html.contains(&line("", "10.0", "0.0")), "{html}");
    // A repulsion of 0 lies on the vertical that it is held against.
    let (_, html) = row_of("vault", "Repulsion, hands to hips at release");
    assert!(html.contains("aria-label=\"at most 0°\""), "{html}");
    assert!(html.contains(&line(" class=\"held\"", "0.0", "-10.0")), "{html}");
    assert!(html.contains(&line("", "0.0", "-10.0")), "{html}");
}
