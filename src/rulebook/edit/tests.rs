//! The forms' side of a book: what is typed, what stands in the file, what is told where.

use super::{told::Told, *};
use crate::rulebook::{
    TABLES,
    rows::{Field, Kind},
    shipped, shipped_text,
};

const BOOK: &str = "# Our league.\n\n[book]\nid = \"l\" # short\ntitle = \"League\"\nedition = \"1\"\n\n\
    [[division]]\nid = \"low\"\nname = \"Low\"\n\n[[division]]\nid = \"high\"\nname = \"High\"\n\n\
    [[event]]\nid = \"beam\"\nname = \"Beam\"\n\n[[class]]\nid = \"a\"\nname = \"A\"\n\n\
    # How it is scored.\n[[scoring]]\nformula = \"start-minus\"\nstart = 10.0   # p. 3\n\n\
    [[value_parts]]\nneed = [{ class = \"a\", count = 1, price = 0.5 }]\n\n\
    [[element]]\nid = \"leap\"\nname = \"Leap\"\nevent = \"beam\"\nclass = \"a\"\n";

fn draft() -> Draft {
    Draft::new(BOOK).unwrap()
}

fn field(table: &str, key: &str) -> &'static Field {
    let spec = TABLES.iter().find(|spec| spec.key == table).unwrap();
    spec.fields.iter().find(|field| field.key == key).unwrap()
}

fn set(draft: &mut Draft, place: &RowAt, key: &str, typed: &str) -> Result<(), String> {
    draft.set(place, field(place.table, key), typed)
}

fn told_in(text: &str) -> Vec<Told> {
    reading(text, "l", &|_| None).told
}

#[test]
fn a_value_is_written_in_its_place_and_everything_else_stays() {
    let mut draft = draft();
    set(&mut draft, &RowAt::row("scoring", 0), "start", "12,5").unwrap();
    assert_eq!(draft.text(), BOOK.replace("start = 10.0   # p. 3", "start = 12.5   # p. 3"));
    // The same once more is no step; an empty field takes the key out.
    set(&mut draft, &RowAt::row("scoring", 0), "start", "12.5").unwrap();
    set(&mut draft, &RowAt::row("scoring", 0), "start", " ").unwrap();
    assert!(!draft.text().contains("start ="));
    assert!(draft.undo() && draft.undo());
    assert_eq!(draft.text(), BOOK);
    assert!(!draft.undo());
    assert!(draft.redo());
    assert_eq!(draft.written(&RowAt::row("scoring", 0), "start"), "12.5");
}

#[test]
fn what_is_typed_becomes_a_value_of_its_kind_and_back() {
    let mut draft = draft();
    let (low, scoring) = (RowAt::row("division", 0), RowAt::row("scoring", 0));
    set(&mut draft, &low, "numbers", "leap 90, kick 0,5").unwrap();
    assert!(draft.text().contains("numbers = { leap = 90, kick = 0.5 }"), "{}", draft.text());
    assert_eq!(draft.written(&low, "numbers"), "leap 90, kick 0.5");
    set(&mut draft, &scoring, "start", "low 10, high 9.5").unwrap();
    assert_eq!(draft.written(&scoring, "start"), "low 10, high 9.5");
    set(&mut draft, &scoring, "divisions", "low, high").unwrap();
    assert!(draft.text().contains("divisions = [\"low\", \"high\"]"));
    set(&mut draft, &scoring, "divisions", "low").unwrap();
    assert!(draft.text().contains("divisions = \"low\""));
    // The number is called by its name.
    set(&mut draft, &scoring, "floor", "least").unwrap();
    assert!(draft.text().contains("floor = \"least\""));
    let part = RowAt::row("value_parts", 0);
    set(&mut draft, &part, "higher_replaces", "yes").unwrap();
    assert!(draft.text().contains("higher_replaces = true"));
    let refused = |draft: &mut Draft, place, key, typed| set(draft, place, key, typed).unwrap_err();
    assert!(refused(&mut draft, &part, "higher_replaces", "maybe").contains("yes or no"));
    assert!(refused(&mut draft, &low, "numbers", "ninety").contains("first 0.5"));
    let before = draft.text().to_owned();
    refused(&mut draft, &scoring, "start", "ten and a half");
    assert_eq!(draft.text(), before, "what is refused changes nothing");
}

#[test]
fn rows_are_added_raised_and_removed_inside_too() {
    let mut draft = draft();
    let third = draft.add("division");
    assert_eq!(third, RowAt::row("division", 2));
    set(&mut draft, &third, "id", "top").unwrap();
    set(&mut draft, &third, "name", "Top").unwrap();
    // It stands behind the others of its kind, not at the end of the file.
    let at = |text: &str, part: &str| text.find(part).unwrap();
    assert!(at(draft.text(), "\"top\"") < at(draft.text(), "[[event]]"));
    draft.raise("division", 2);
    let ids = |draft: &Draft| {
        let row = |at| draft.written(&RowAt::row("division", at), "id");
        (0..draft.count("division")).map(row).collect::<Vec<_>>()
    };
    assert_eq!(ids(&draft), ["low", "top", "high"]);
    assert!(at(draft.text(), "\"top\"") < at(draft.text(), "\"high\""), "{}", draft.text());
    draft.remove(&RowAt::row("division", 0));
    assert_eq!(ids(&draft), ["top", "high"]);
    // Of a kind of which there was none.
    let first = draft.add("requirement");
    set(&mut draft, &first, "id", "leap").unwrap();
    assert_eq!(draft.written(&RowAt::row("requirement", 0), "id"), "leap");
    // Inside a row.
    let parts = RowAt::row("value_parts", 0);
    let need = draft.add_inside(&parts, "need", true);
    assert_eq!(draft.count_inside(&parts, "need"), 2);
    let inner = TABLES.iter().find(|spec| spec.key == "value_parts").unwrap();
    let inner = inner.fields.iter().find(|field| field.key == "need").unwrap();
    let Kind::Tables(inner) = inner.kind else { panic!("a list") };
    let price = inner.iter().find(|field| field.key == "price").unwrap();
    draft.set(&need, price, "0.3").unwrap();
    assert_eq!(draft.written(&need, "price"), "0.3");
    draft.remove(&parts.inside("need", 0));
    assert_eq!(draft.written(&parts.inside("need", 0), "price"), "0.3");
    draft.remove(&parts.inside("need", 0));
    assert!(!draft.text().contains("need ="), "an empty list goes");
}

#[test]
fn what_is_wrong_is_told_at_its_row_and_key() {
    assert_eq!(told_in(BOOK), []);
    let told = told_in(&BOOK.replace("class = \"a\"\n", "class = \"b\"\n"));
    let place = |told: &Told| (told.place.clone(), told.key, told.is_error);
    assert_eq!(place(&told[0]), (Some(RowAt::row("element", 0)), Some("class"), true));
    // Inside a row, and in the second of its kind.
    let told = told_in(&BOOK.replace("price = 0.5", "price = \"half\""));
    let need = RowAt::row("value_parts", 0).inside("need", 0);
    assert!(
        told.iter().any(|one| place(one) == (Some(need.clone()), Some("price"), true)),
        "{told:?}"
    );
    let told = told_in(&BOOK.replace("id = \"high\"\n", ""));
    assert!(told.iter().any(|one| place(one) == (Some(RowAt::row("division", 1)), None, true)));
}

#[test]
fn every_shape_begins_with_a_book_that_passes() {
    for shape in &SHAPES {
        let text = shape.text("my-league");
        let reading = reading(&text, "my-league.toml", &|_| None);
        assert!(reading.book.is_some(), "{}", shape.says);
        assert_eq!(reading.told, [], "{}", shape.says);
    }
}

#[test]
fn the_shipped_books_are_shown_as_they_stand() {
    for name in shipped() {
        let text = shipped_text(name).unwrap();
        let mut draft = Draft::new(text).unwrap();
        for spec in TABLES {
            for at in 0..draft.count(spec.key) {
                let place = RowAt::row(spec.key, at);
                for field in spec.fields {
                    let written = draft.written(&place, field.key);
                    let is_plain = !matches!(field.kind, Kind::Table(_) | Kind::Tables(_));
                    if is_plain && !written.is_empty() && at == 0 {
                        draft.set(&place, field, &written).unwrap();
                    }
                }
            }
        }
        // What is typed in again as it is shown is the same book.
        let [before, after] = [text, draft.text()].map(|text| {
            reading(text, name, &|base| shipped_text(base).map(str::to_owned)).book.unwrap()
        });
        assert_eq!(crate::rulebook::Book { hash: before.hash.clone(), ..after }, before);
    }
}

const SHEET: &str = "No\tElement\tLetter\tComment\n1\tSplit leap\tA\tnice\n2\tSplit leap\ta\t\n\
    3\tWolf, hop\t\t\n\t\t\t\n";

#[test]
fn rows_of_a_spreadsheet_become_elements() {
    let pasted = Pasted::read(SHEET).unwrap();
    assert_eq!(pasted.columns, [Some("code"), Some("name"), Some("class"), None]);
    assert_eq!(pasted.rows.len(), 3, "the head and the empty row are none");
    let mut draft = draft();
    assert_eq!(draft.paste(&pasted, "beam"), Ok(3));
    let row = |at: usize, key: &str| draft.written(&RowAt::row("element", at), key);
    assert_eq!(
        ["id", "name", "class", "code", "event"].map(|key| row(1, key)),
        ["split-leap", "Split leap", "a", "1", "beam"]
    );
    assert_eq!(row(2, "id"), "split-leap-2", "no two have one id");
    assert_eq!(["id", "name", "class"].map(|key| row(3, key)), ["wolf-hop", "Wolf, hop", ""]);
    assert_eq!(told_in(draft.text()).iter().filter(|one| one.is_error).count(), 0);
    // One step back takes all of them out.
    assert!(draft.undo());
    assert_eq!(draft.text(), BOOK);
}

#[test]
fn columns_are_called_by_a_person_and_what_does_not_fit_is_said() {
    let mut pasted = Pasted::read("Leap;a b\nHop;0,3\n").unwrap();
    assert_eq!(pasted.columns, [Some("name"), None], "the longest texts are the names");
    pasted.call(1, Some("value"));
    let mut draft = draft();
    let why = draft.paste(&pasted, "beam").unwrap_err();
    assert!(why.starts_with("row 1, \"Leap\", column value: "), "{why}");
    assert_eq!(draft.text(), BOOK);
    pasted.call(1, Some("name"));
    assert_eq!(pasted.columns, [None, Some("name")]);
    assert!(Pasted::read("\n \n").is_err());
}
