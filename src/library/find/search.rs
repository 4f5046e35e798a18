//! Carrying a search out on the index.

use std::path::PathBuf;

use jiff::civil::Date;
use rusqlite::types::Value;

use crate::{
    library::index::{
        database::{Index, IndexError},
        rows,
    },
    marks::Quantity,
    sheet::ScoreRange,
    units::Points,
};

use super::query::{Edge, Query, QueryField, QueryFlag, QueryOutcome, QueryRange, Term};

/// One routine that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "each is so or not, whatever the others are")]
pub struct Hit {
    /// Its clip; nothing when it is planned or the clip is gone.
    pub clip: Option<PathBuf>,
    /// Whether that is out of reach now: its folder or disk cannot be looked at.
    pub away: bool,
    /// Its marks file; nothing when there is none yet.
    pub marks: Option<PathBuf>,
    /// Whether somebody marked, read or called anything; a file may be begun before anybody does.
    pub watched: bool,
    /// Name within the clip.
    pub routine: String,
    /// Event id.
    pub event: String,
    /// Division id.
    pub division: String,
    /// Code of the athlete.
    pub athlete: String,
    /// Code of the judge.
    pub judge: String,
    /// Date of the performance.
    pub date: String,
    /// The score; nothing when void or not scored.
    pub score: Option<Points>,
    /// Lowest and highest score that the close calls leave open; nothing is meant where there is none.
    pub range: ScoreRange,
    /// Whether it is void.
    pub void: bool,
    /// Why it cannot be scored, and what to do; empty when it can, and when its marks name no book.
    pub unscored: String,
    /// How many close calls.
    pub close: u32,
    /// Whether these marks stand in a reference that several agreed on.
    pub agreed: bool,
    /// Whether they stand in a reference, of one judge alone or of several.
    pub reference: bool,
}

/// Which part of what was found.
#[derive(Clone, Copy, Debug)]
pub struct Page {
    /// How many to pass over.
    pub from: u32,
    /// How many to return at most.
    pub most: u32,
}

/// Returns the routines that a search finds, the latest first, and how many there are in all.
pub fn find(
    index: &Index,
    query: &Query,
    page: Page,
    today: Date,
) -> Result<(Vec<Hit>, u32), IndexError> {
    if asks_records(query) {
        rows::renew_sidecars(index)?;
    }
    let mut condition = Condition { sql: String::new(), values: Vec::new(), today };
    condition.add(query);
    let Condition { sql, values, .. } = condition;
    // The condition is carried out once, for the count and the page alike.
    let ids: Vec<i64> = index.list_with(
        &format!(
            "SELECT r.id FROM routines r LEFT JOIN clips c ON c.id = r.clip WHERE {sql}
             ORDER BY r.date DESC, r.id"
        ),
        rusqlite::params_from_iter(values.iter()),
        |row| row.get(0),
    )?;
    let on_page = ids.iter().skip(page.from as usize).take(page.most as usize);
    let hits = on_page.map(|id| hit_of(index, *id)).collect::<Result<Vec<_>, _>>()?;
    Ok((hits.into_iter().flatten().collect(), ids.len() as u32))
}

fn hit_of(index: &Index, id: i64) -> Result<Option<Hit>, IndexError> {
    let mut hits = index.list_with(
        "SELECT c.path, r.marks, r.routine, r.event, r.division, r.athlete, r.judge, r.date,
             r.score, r.void, r.close, r.agreed, r.watched, coalesce(c.away, 0),
             coalesce(r.problem, ''), coalesce(r.low, 0), coalesce(r.high, 0), r.may_be_void
         FROM routines r LEFT JOIN clips c ON c.id = r.clip WHERE r.id = ?1",
        [id],
        hit,
    )?;
    Ok(hits.pop())
}

/// Returns whether a search asks what the records of clips say.
fn asks_records(query: &Query) -> bool {
    match query {
        Query::All(parts) | Query::Any(parts) => parts.iter().any(asks_records),
        Query::Not(part) => asks_records(part),
        Query::Term(term) => {
            matches!(
                term,
                Term::Flag(QueryFlag::Due | QueryFlag::Agreed | QueryFlag::Reference)
                    | Term::Allowed(..)
            )
        }
    }
}

/// Returns the clips that are to be deleted by `last`, by their records as they are now, the most
/// urgent first.
pub fn due(index: &Index, last: Date) -> Result<Vec<(PathBuf, Date)>, IndexError> {
    rows::renew_sidecars(index)?;
    let rows: Vec<(String, String)> = index.list_with(
        "SELECT path, delete_by FROM clips WHERE delete_by <= ?1 ORDER BY delete_by, path",
        [last.to_string()],
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    let due = rows.into_iter().filter_map(|(path, day)| Some((path.into(), day.parse().ok()?)));
    Ok(due.collect())
}

/// Returns every clip of the library, by path.
pub fn clips(index: &Index) -> Result<Vec<PathBuf>, IndexError> {
    let paths: Vec<String> =
        index.list("SELECT path FROM clips ORDER BY path", |row| row.get(0))?;
    Ok(paths.into_iter().map(PathBuf::from).collect())
}

fn hit(row: &rusqlite::Row<'_>) -> rusqlite::Result<Hit> {
    let path = |path: Option<String>| path.map(PathBuf::from);
    Ok(Hit {
        clip: path(row.get(0)?),
        marks: path(row.get(1)?),
        routine: row.get(2)?,
        event: row.get(3)?,
        division: row.get(4)?,
        athlete: row.get(5)?,
        judge: row.get(6)?,
        date: row.get(7)?,
        score: row.get::<_, Option<i64>>(8)?.map(Points),
        void: row.get(9)?,
        close: row.get(10)?,
        agreed: row.get::<_, i64>(11)? == 2,
        reference: row.get::<_, i64>(11)? > 0,
        watched: row.get(12)?,
        away: row.get(13)?,
        unscored: row.get(14)?,
        range: ScoreRange {
            low: Points(row.get(15)?),
            high: Points(row.get(16)?),
            may_be_void: row.get(17)?,
        },
    })
}

/// A condition in SQL with its values in order.
struct Condition {
    sql: String,
    values: Vec<Value>,
    today: Date,
}

impl Condition {
    fn add(&mut self, query: &Query) {
        match query {
            Query::All(parts) => self.join(parts, " AND ", "1"),
            Query::Any(parts) => self.join(parts, " OR ", "0"),
            Query::Not(part) => {
                self.say("NOT coalesce(");
                self.add(part);
                self.say(", 0)");
            }
            Query::Term(term) => {
                self.say("(");
                self.term(term);
                self.say(")");
            }
        }
    }

    fn join(&mut self, parts: &[Query], between: &str, empty: &str) {
        if parts.is_empty() {
            return self.say(empty);
        }
        self.say("(");
        for (at, part) in parts.iter().enumerate() {
            if at > 0 {
                self.say(between);
            }
            self.add(part);
        }
        self.say(")");
    }

    fn term(&mut self, term: &Term) {
        match term {
            Term::Is(field, value) => self.is(*field, value),
            Term::Element(name) => {
                self.say("r.id IN (SELECT routine FROM elements WHERE ");
                self.named(["element", "label"], name);
                self.say(")");
            }
            Term::Moment(kind) => {
                self.with("r.id IN (SELECT routine FROM moments WHERE kind = ?)", kind.clone());
            }
            Term::Requirement(name, outcome) => {
                self.say("r.id IN (SELECT routine FROM requirements WHERE ");
                self.named(["requirement", "label"], name);
                if let Some(outcome) = outcome {
                    self.with(" AND status = ?", word(*outcome).to_owned());
                }
                self.say(")");
            }
            Term::Fault(name, range) => {
                self.say("r.id IN (SELECT routine FROM faults WHERE ");
                match name {
                    Some(name) => self.named(["rule", "label"], name),
                    None => self.say("1"),
                }
                self.say(" AND ");
                self.range("amount", *range, &QueryRange::thousandths);
                self.say(")");
            }
            Term::Score(range) => self.range("r.score", *range, &QueryRange::thousandths),
            Term::Angle(name, range) => self.angle(name, *range),
            Term::Date(from, to) => self.dates(*from, *to),
            Term::Flag(flag) => self.flag(*flag),
            Term::Allowed(what, purpose) => {
                self.say("r.clip IN (SELECT clip FROM allowed WHERE ");
                self.with("what = ?", (*what).to_owned());
                self.with(" AND purpose = ?", purpose.clone());
                self.with(" AND (until IS NULL OR until >= ?))", self.today.to_string());
            }
            Term::Words(words) => self.words(words),
        }
    }

    fn is(&mut self, field: QueryField, value: &str) {
        let column = match field {
            QueryField::Event => "event",
            QueryField::Division => "division",
            QueryField::Athlete => {
                self.with("r.athlete = ?", value.to_owned());
                let sql = " OR r.clip IN (SELECT clip FROM filmed WHERE athlete = ?)";
                return self.with(sql, value.to_owned());
            }
            QueryField::Judge => "judge",
            QueryField::Book => "book",
            QueryField::Edition => "edition",
        };
        self.with(&format!("r.{column} = ?"), value.to_owned());
    }

    /// Says that one of two columns is the name or has it as a part.
    fn named(&mut self, [id, label]: [&str; 2], name: &str) {
        self.with(&format!("({id} = ?"), name.to_owned());
        self.with(&format!(" OR {id} LIKE ? ESCAPE '\\'"), part(name));
        self.with(&format!(" OR {label} LIKE ? ESCAPE '\\')"), part(name));
    }

    fn angle(&mut self, name: &str, range: QueryRange) {
        self.say("r.id IN (SELECT routine FROM readings WHERE ");
        match quantity(name) {
            Some(quantity) => self.with("quantity = ?", quantity.words().to_owned()),
            None => self.named(["element", "label"], name),
        }
        self.say(" AND (");
        match range {
            QueryRange::Within(tolerance, edge @ (Edge::Horizontal | Edge::Vertical)) => {
                self.towards(tolerance, edge);
            }
            range => self.range("value", range, &|degrees| degrees),
        }
        self.say("))");
    }

    /// Says that a value is so near to a direction, which is another number in each quantity.
    fn towards(&mut self, tolerance: f64, edge: Edge) {
        let places: &[(Quantity, f64)] = match edge {
            Edge::Horizontal => &[(Quantity::BodyLine, 0.0), (Quantity::OffVertical, 90.0)],
            _ => &[
                (Quantity::BodyLine, 90.0),
                (Quantity::OffVertical, 0.0),
                (Quantity::Repulsion, 0.0),
            ],
        };
        for (at, (quantity, place)) in places.iter().enumerate() {
            self.say(if at > 0 { " OR " } else { "" });
            self.with("(quantity = ?", quantity.words().to_owned());
            self.say(" AND ");
            self.range("value", QueryRange::Between(place - tolerance, place + tolerance), &|it| {
                it
            });
            self.say(")");
        }
    }

    fn range<T: Into<Value>>(&mut self, column: &str, range: QueryRange, unit: &dyn Fn(f64) -> T) {
        let sql = |operator: &str| format!("{column} {operator} ?");
        match range {
            QueryRange::Any => self.say("1"),
            QueryRange::Between(from, to) => {
                self.with(&sql(">="), unit(from));
                self.with(&format!(" AND {}", sql("<=")), unit(to));
            }
            QueryRange::Within(tolerance, Edge::Number(place)) => {
                self.range(column, QueryRange::Between(place - tolerance, place + tolerance), unit);
            }
            // A direction has no number among points.
            QueryRange::Within(..) => self.say("0"),
            QueryRange::Above(than) => self.with(&sql(">"), unit(than)),
            QueryRange::Below(than) => self.with(&sql("<"), unit(than)),
            QueryRange::AtLeast(than) => self.with(&sql(">="), unit(than)),
            QueryRange::AtMost(than) => self.with(&sql("<="), unit(than)),
        }
    }

    fn dates(&mut self, from: Option<Date>, to: Option<Date>) {
        self.say("r.date <> ''");
        if let Some(from) = from {
            self.with(" AND r.date >= ?", from.to_string());
        }
        if let Some(to) = to {
            self.with(" AND r.date <= ?", to.to_string());
        }
    }

    fn flag(&mut self, flag: QueryFlag) {
        match flag {
            QueryFlag::Void => self.say("r.void"),
            QueryFlag::Close => self.say("r.close > 0"),
            QueryFlag::Agreed => self.say("r.agreed = 2"),
            QueryFlag::Reference => self.say("r.agreed"),
            QueryFlag::Marked => self.say("r.watched"),
            QueryFlag::Planned => self.say("r.clip IS NULL AND r.quick_id IS NULL"),
            QueryFlag::Gone => self.say("r.clip IS NULL AND r.quick_id IS NOT NULL"),
            QueryFlag::Away => self.say("coalesce(c.away, 0)"),
            QueryFlag::Altered => self.say("coalesce(c.altered, 0)"),
            QueryFlag::Duplicate => self.say(
                "EXISTS (SELECT 1 FROM clips d WHERE d.quick_id = c.quick_id AND d.size = c.size
                     AND d.id <> c.id AND (d.content_hash IS NULL OR c.content_hash IS NULL
                         OR d.content_hash = c.content_hash))",
            ),
            QueryFlag::Due => self.with("c.delete_by <= ?", self.today.to_string()),
        }
    }

    fn words(&mut self, words: &str) {
        if words.trim().is_empty() {
            return self.say("1");
        }
        // Within quotation marks nothing is an operator of the index's own language.
        let phrase = format!("\"{}\"*", words.replace('"', " "));
        self.with("r.id IN (SELECT rowid FROM words WHERE words MATCH ?)", phrase);
        // Once for all clips, in their order: looked up routine by routine it takes twice as long.
        self.say(" OR r.clip IN (SELECT id FROM clips WHERE ");
        self.with("text LIKE ? ESCAPE '\\'", part(words));
        self.with(" OR path LIKE ? ESCAPE '\\')", part(words));
    }

    fn say(&mut self, sql: &str) {
        self.sql.push_str(sql);
    }

    fn with(&mut self, sql: &str, value: impl Into<Value>) {
        self.sql.push_str(sql);
        self.values.push(value.into());
    }
}

/// Returns a pattern that finds `text` anywhere.
fn part(text: &str) -> String {
    let plain = text.replace('\\', "\\\\").replace('%', "\\%").replace('_', "\\_");
    format!("%{plain}%")
}

fn quantity(name: &str) -> Option<Quantity> {
    let name = name.replace('-', " ").to_lowercase();
    Quantity::ALL.into_iter().find(|quantity| quantity.words() == name)
}

fn word(outcome: QueryOutcome) -> &'static str {
    match outcome {
        QueryOutcome::Met => "met",
        QueryOutcome::Missed => "missed",
        QueryOutcome::Close => "close",
    }
}
