//! What a routine comes to whose book does not know its event or division: no score, and no void
//! either. The books are invented.

use stillcall::{
    marks::What,
    report,
    rulebook::Book,
    sheet::{ScoreSheet, all_divisions, attempts_together, panel, quick, score},
};

use crate::books::{P, ask::like_base, book, write::write};

fn sheet_of(book: &Book, event: &str, division: &str) -> ScoreSheet {
    let sheaf = write(event, division).does(&["wheel"]).seen(What::Fall).done();
    let sheet = score(book, &sheaf);
    assert_eq!(quick(book, &sheaf).unscored, sheet.unscored);
    sheet
}

#[test]
fn a_division_or_an_event_that_the_book_does_not_know_has_no_score() {
    let book = like_base("");
    for (event, division, said) in [
        (
            "beam",
            "lwo",
            "The book has no division \"lwo\", so there is no score. Did you mean \"low\"?",
        ),
        (
            "baem",
            "low",
            "The book has no event \"baem\", so there is no score. Did you mean \"beam\"?",
        ),
        ("beam", "", "The marks name no division, so there is no score. The book has high, low."),
        (
            "beam",
            "xyzzy",
            "The book has no division \"xyzzy\", so there is no score. The book has high, low.",
        ),
    ] {
        let sheet = sheet_of(&book, event, division);
        let unscored = sheet.unscored.clone().unwrap();
        let sorted = |text: &str| text.replace("low, high", "high, low");
        assert_eq!(sorted(&unscored.said()), said);
        assert_eq!((sheet.start_value, sheet.score, sheet.void), (None, None, false));
        assert!(sheet.win_back.is_empty() && sheet.close_calls.is_empty());
        assert!(sheet.remarks.iter().any(|line| line.reason == unscored.said()));
    }
}

#[test]
fn it_is_told_in_every_form_of_the_sheet() {
    let sheet = sheet_of(&like_base(""), "beam", "hihg");
    let json = sheet.to_json();
    assert!(json["start_value"].is_null() && json["score"].is_null());
    assert_eq!(json["void"], false);
    assert_eq!(json["unscored"]["nearest"], "high");
    let page = report::score_sheet(&sheet);
    for text in [page.text(), page.html(), report::captions(&sheet)] {
        assert!(text.contains("no division") && text.contains("high"), "{text}");
        assert!(!text.contains("10.000"), "{text}");
    }
    assert!(page.text().contains("no score") && !page.text().contains("void"));
}

#[test]
fn a_routine_that_no_table_of_scoring_covers_has_no_score_either() {
    let text = "[[scoring]]\nevents = \"bars\"\nformula = \"start-minus\"\nstart = 10.0\n";
    let sheet = sheet_of(&like_base(text), "beam", "low");
    assert_eq!((sheet.score, sheet.void), (None, false));
    assert!(sheet.unscored.unwrap().remedy.contains("[[scoring]]"));
}

#[test]
fn sheets_without_a_score_make_no_panel_and_no_attempts() {
    let sheets = [sheet_of(&book(P), "vault", "d9"), sheet_of(&book(P), "vault", "d9")];
    let why = |result: Result<_, stillcall::sheet::TogetherError>| result.unwrap_err().to_string();
    let mut other = sheets.clone();
    other[1].standing.judge = "J2".into();
    assert!(why(attempts_together(&book(P), &sheets)).contains("no division \"d9\""));
    assert!(why(panel(&book(P), &other, None)).contains("no division \"d9\""));
}

#[test]
fn every_division_is_still_shown_for_a_routine_of_an_unknown_one() {
    let sheaf = write("beam", "lwo").does(&["wheel"]).done();
    let sheets = all_divisions(&like_base(""), &sheaf);
    assert!(sheets.iter().all(|sheet| sheet.unscored.is_none()));
}
