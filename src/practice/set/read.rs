//! From a set file's text to the model, with every error at once.

use std::ops::Range;

use toml::de::DeTable;

use crate::rulebook::{
    Book, Diagnostic,
    rows::{Findings, Row, Value, walk},
};

use super::{
    entry::{entered, vocabulary},
    fields::TABLES,
    model::{Flag, Look, Set},
    question::{Answer, AnswerForm, Ask, Question},
};

/// A set with its warnings, or every error of its text.
pub(crate) type ReadSet = Result<(Set, Vec<Diagnostic>), Vec<Diagnostic>>;

/// Returns the set with its warnings, or every error of the text at once.
///
/// `find` returns the rule book of that name, or in words why there is none.
pub fn read(text: &str, find: &dyn Fn(&str) -> Result<Book, String>) -> ReadSet {
    let mut findings = Findings::new(text);
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        findings.error(&span, error.message().to_owned(), "");
    }
    let walked = walk(root.get_ref(), TABLES, &mut findings);
    let none = Vec::new();
    let rows = |key| walked.tables.get(key).unwrap_or(&none);
    let mut set = Set {
        hash: blake3::hash(text.as_bytes()).to_hex().to_string(),
        ..rows("set").first().map(head).unwrap_or_default()
    };
    let mut reader = Reader { findings: &mut findings, book: None, cue: String::new() };
    if let Some(row) = rows("set").first() {
        reader.cue = row.text("cue");
        reader.find_book(row, find);
    }
    set.looks = rows("look").iter().map(|row| reader.look(row)).collect();
    if set.examination {
        reader.routines_are_named(rows("look"));
    }
    reader.no_id_twice(rows("look"), "look");
    if set.looks.is_empty() {
        let remedy = "add a [[look]] with id, clip, from, to, event and division";
        findings.error(&(0..0), "a set needs at least one look".to_owned(), remedy);
    }
    if findings.any_error() { Err(findings.finish()) } else { Ok((set, findings.finish())) }
}

fn head(row: &Row) -> Set {
    Set {
        id: row.text("id"),
        title: row.text("title"),
        book: row.text("book"),
        seconds: row.count("seconds").unwrap_or(0),
        purpose: if row.has("purpose") { row.text("purpose") } else { "library".to_owned() },
        examination: row.flag("examination").unwrap_or(false),
        ..Set::default()
    }
}

struct Reader<'f, 't> {
    findings: &'f mut Findings<'t>,
    book: Option<Book>,
    cue: String,
}

impl Reader<'_, '_> {
    fn find_book(&mut self, row: &Row, find: &dyn Fn(&str) -> Result<Book, String>) {
        match find(row.word("book")) {
            Ok(book) => self.book = Some(book),
            Err(why) if row.has("book") => {
                self.findings.error(&row.span_of("book"), why, "name a rule book that can be read");
            }
            Err(_) => {}
        }
    }

    fn look(&mut self, row: &Row) -> Look {
        let (from_ms, to_ms) = (self.moment(row, "from"), self.moment(row, "to"));
        let mut look = Look {
            id: row.text("id"),
            clip: row.text("clip"),
            clip_hash: row.text("clip_hash").to_lowercase(),
            routine: row.text("routine"),
            from_ms: from_ms.unwrap_or(0),
            to_ms: to_ms.unwrap_or(0),
            event: row.text("event"),
            division: row.text("division"),
            cue: if row.has("cue") { row.text("cue") } else { self.cue.clone() },
            flag: match row.word("flag") {
                "injury" => Some(Flag::Injury),
                "distress" => Some(Flag::Distress),
                _ => None,
            },
            on_purpose: row.flag("on_purpose").unwrap_or(false),
            questions: Vec::new(),
        };
        if from_ms.zip(to_ms).is_some_and(|(from, to)| from >= to) {
            let message = "the span ends before it begins".to_owned();
            self.findings.error(&row.span_of("to"), message, "write \"from\" lower than \"to\"");
        }
        self.names(row, &look);
        let questions = row.rows("question");
        look.questions =
            questions.iter().enumerate().map(|(at, row)| self.question(row, at, &look)).collect();
        self.no_id_twice(questions, "question");
        // Judges give the start value before they know the score.
        look.questions.sort_by_key(|question| match question.ask {
            Ask::StartValue => 0,
            Ask::Score => 2,
            _ => 1,
        });
        self.warn(row, &look);
        look
    }

    fn names(&mut self, row: &Row, look: &Look) {
        let Some(book) = &self.book else { return };
        let events = book.events.iter().map(|event| event.id.as_str());
        if row.has("event") && book.event(&look.event).is_none() {
            self.findings.unknown(&row.span_of("event"), ("event", &look.event), events);
        }
        let divisions = book.divisions.iter().map(|division| division.id.as_str());
        if row.has("division") && book.division(&look.division).is_none() {
            self.findings.unknown(
                &row.span_of("division"),
                ("division", &look.division),
                divisions,
            );
        }
    }

    fn warn(&mut self, row: &Row, look: &Look) {
        if !look.may_be_shown() {
            let message = "this look is flagged and is left out of every sitting".to_owned();
            let remedy = "write on_purpose = true to show it all the same";
            self.findings.warning(&row.span_of("flag"), message, remedy);
        }
        if look.questions.is_empty() && row.rows("question").is_empty() {
            let message = "nothing is asked about this look".to_owned();
            self.findings.warning(&row.span, message, "add a [[look.question]]");
        }
    }

    fn question(&mut self, row: &Row, place: usize, look: &Look) -> Question {
        let ask = Ask::of_word(row.word("ask")).unwrap_or(Ask::Void);
        let own = match ask.form() {
            AnswerForm::Degrees => row.degrees("within_degrees"),
            AnswerForm::Points => {
                row.points("within_points").map(|points| points.0 as f64 / 1000.0)
            }
            _ => None,
        };
        self.no_odd_within(row, ask);
        let id = if row.has("id") { row.text("id") } else { (place + 1).to_string() };
        Question {
            id,
            ask,
            of: row.text("of"),
            reference: self.reference(row, ask, look),
            close: row.flag("close").unwrap_or(false),
            within: own.unwrap_or(ask.within()),
            still_ms: self.moment(row, "still"),
            number: row.text("number"),
            line: row.text("line"),
            why: row.text("why"),
        }
    }

    /// Returns the reference call as a person would have typed it.
    fn reference(&mut self, row: &Row, ask: Ask, look: &Look) -> Option<Answer> {
        if !row.has("answer") || !row.has("ask") {
            return None;
        }
        let given = row.texts("answer");
        if given.is_empty() && matches!(ask.form(), AnswerForm::InOrder | AnswerForm::AnyOrder) {
            return Some(Answer::Words(Vec::new()));
        }
        let words =
            self.book.as_ref().map(|book| vocabulary(book, ask, &look.event, &look.division));
        // Without a book there is an error already, and no name can be looked up.
        let words = words?;
        match entered(ask, &given.join(", "), &words) {
            Ok(answer) => answer,
            Err(error) => {
                let known = words.iter().map(|word| word.id.as_str());
                let span = row.span_of("answer");
                match given.iter().find(|one| entered(ask, one, &words).is_err()) {
                    Some(one)
                        if !words.is_empty()
                            && matches!(ask.form(), AnswerForm::InOrder | AnswerForm::AnyOrder) =>
                    {
                        let what = if ask == Ask::Missing { "requirement" } else { "element" };
                        self.findings.unknown(&span, (what, one), known);
                    }
                    _ => {
                        self.findings.error(&span, error.to_string(), "correct the reference call");
                    }
                }
                None
            }
        }
    }

    fn routines_are_named(&mut self, rows: &[Row]) {
        for row in rows.iter().filter(|row| row.word("routine").is_empty()) {
            let message = "a look of an examination names no routine".to_owned();
            let remedy = "add routine, so that its agreed reference is found";
            self.findings.error(&row.span, message, remedy);
        }
    }

    fn no_odd_within(&mut self, row: &Row, ask: Ask) {
        for (key, form) in
            [("within_degrees", AnswerForm::Degrees), ("within_points", AnswerForm::Points)]
        {
            if row.has(key) && row.has("ask") && ask.form() != form {
                let message = format!("\"{key}\" has no meaning for this question");
                self.findings.error(&row.span_of(key), message, "leave it out");
            }
        }
    }

    /// Returns a time in milliseconds; one that is not written as a number is an error.
    fn moment(&mut self, row: &Row, key: &str) -> Option<i64> {
        if let Some(cell) = row.cell(key)
            && matches!(cell.value, Value::Varies(_))
        {
            let remedy = "write seconds, such as 12.4";
            self.findings.error(&cell.span, "this is no number".to_owned(), remedy);
        }
        row.points(key).map(|thousandths| thousandths.0)
    }

    fn no_id_twice(&mut self, rows: &[Row], what: &str) {
        let mut seen: Vec<&str> = Vec::new();
        let mut twice: Vec<(Range<usize>, &str)> = Vec::new();
        for row in rows.iter().filter(|row| row.has("id")) {
            if seen.contains(&row.word("id")) {
                twice.push((row.span_of("id"), row.word("id")));
            }
            seen.push(row.word("id"));
        }
        for (span, id) in twice {
            let message = format!("the id \"{}\" is used twice", id.escape_debug());
            self.findings.error(&span, message, &format!("give each {what} an id of its own"));
        }
    }
}
