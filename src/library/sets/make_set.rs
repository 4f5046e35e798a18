//! A set for practice, made of the routines that a search found and the gate lets in.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

use serde::Serialize;

use crate::{
    judged::is_watched,
    library::{
        consent::{
            ask::permit,
            gate::Asked,
            sidecar::{Agreed, AgreedCall, Purpose, Standing},
            sidecar_file::SidecarFile,
        },
        find::search::Hit,
        home::{day::today, folder::Home, ledger::FileKind},
        judges::agree::answer,
        share::{leave::Leaving, leave_error::LeaveError, of::Of},
    },
    marks::{self, Sheaf, StateFolder},
    practice::set::Ask,
    rulebook::Book,
    store::open_file,
    units::{self, FrameRef, TimeBase},
};

use super::look::use_in_set;

/// Milliseconds shown around the first and the last mark where a routine has no span.
const AROUND_MS: i64 = 3000;

/// What kind of set is wished for.
#[derive(Debug)]
pub struct SetWishes<'a> {
    /// Id that sittings name.
    pub id: &'a str,
    /// Title.
    pub title: &'a str,
    /// What it is shown for.
    pub purpose: Purpose,
    /// Whether it examines somebody.
    pub examination: bool,
    /// Seconds to answer; no limit when absent.
    pub seconds: Option<u32>,
    /// What is asked of every routine: void, start value, score; and where something was agreed on,
    /// the elements, which are credited, what is missing.
    pub asks: &'a [Ask],
}

/// A set that was made.
#[derive(Debug)]
pub struct MadeSet {
    /// Text of the set file.
    pub text: String,
    /// How many looks it has.
    pub looks: usize,
    /// What was left out, and why.
    pub left_out: Vec<(PathBuf, String)>,
    of: Of,
}

impl MadeSet {
    /// Lets the set file out; one that is there already is left as it is.
    pub fn write(&self, path: &Path, home: &Home) -> Result<(), LeaveError> {
        Leaving::new(path, FileKind::Set)
            .of(self.of.clone())
            .anew()
            .write(self.text.as_bytes(), Some(home))
    }
}

#[derive(Serialize)]
struct SetText<'a> {
    set: HeadText<'a>,
    look: Vec<LookText>,
}

#[derive(Serialize)]
struct HeadText<'a> {
    id: &'a str,
    title: &'a str,
    book: &'a str,
    purpose: &'static str,
    examination: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<u32>,
}

#[derive(Serialize)]
struct LookText {
    id: String,
    clip: String,
    clip_hash: String,
    routine: String,
    from: f64,
    to: f64,
    event: String,
    division: String,
    question: Vec<QuestionText>,
}

#[derive(Serialize)]
struct QuestionText {
    ask: &'static str,
    #[serde(skip_serializing_if = "String::is_empty")]
    of: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    answer: Option<AnswerText>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    close: bool,
}

#[derive(Serialize)]
#[serde(untagged)]
enum AnswerText {
    One(String),
    Several(Vec<String>),
}

/// Makes a set of the routines, to lie at `set_file`; one look for each routine of a clip.
///
/// What may not be in it, or cannot be shown under `book`, is left out with its reason.
pub fn make_set(
    hits: &[Hit],
    set_file: &Path,
    book: &Book,
    wishes: &SetWishes<'_>,
    state: Option<&StateFolder>,
) -> MadeSet {
    let (text, of) = Default::default();
    let mut made = MadeSet { text, looks: 0, left_out: Vec::new(), of };
    let mut looks = Vec::new();
    for routine in routines(hits) {
        match look(&routine, set_file, book, wishes, state) {
            Ok(look) => {
                looks.push(LookText { id: format!("{}", looks.len() + 1), ..look });
                made.of.extend([Of::clip(routine.clip)]);
            }
            Err(why) => made.left_out.push((routine.clip.to_owned(), why)),
        }
    }
    made.looks = looks.len();
    let set = HeadText {
        id: wishes.id,
        title: wishes.title,
        book: &book.id,
        purpose: wishes.purpose.word(),
        examination: wishes.examination,
        seconds: wishes.seconds,
    };
    // Only a map with keys that are not text could fail here, and there is none.
    made.text = toml::to_string(&SetText { set, look: looks }).unwrap_or_default();
    made
}

/// A routine of a clip, once however many judges marked it.
struct Found<'a> {
    clip: &'a Path,
    id: &'a str,
    /// Its clip is out of reach.
    away: bool,
    /// The marks file of whoever marked it and was found first.
    marks: Option<&'a Path>,
}

/// Returns each routine of a clip, in the order in which it was found first.
fn routines(hits: &[Hit]) -> Vec<Found<'_>> {
    let mut routines: Vec<Found<'_>> = Vec::new();
    let mut places: BTreeMap<(&Path, &str), usize> = BTreeMap::new();
    for hit in hits {
        let Some(clip) = hit.clip.as_deref() else { continue };
        // A file in which nobody marked anything shows nothing.
        let marks = hit.marks.as_deref().filter(|_| hit.watched);
        let place = *places.entry((clip, &hit.routine)).or_insert(routines.len());
        match routines.get_mut(place) {
            Some(found) => found.marks = found.marks.or(marks),
            None => routines.push(Found { clip, id: &hit.routine, away: hit.away, marks }),
        }
    }
    routines
}

fn look(
    found: &Found<'_>,
    set_file: &Path,
    book: &Book,
    wishes: &SetWishes<'_>,
    state: Option<&StateFolder>,
) -> Result<LookText, String> {
    let Found { clip, id, .. } = *found;
    if found.away {
        return Err("it is out of reach; plug its disk in and scan again".to_owned());
    }
    let what = use_in_set(wishes.purpose, wishes.examination);
    permit(clip, &Asked { what, athletes: &[], routine: id, today: today() })
        .map_err(|refused| refused.to_string())?;
    let noted = SidecarFile::open(clip).map_err(|error| error.to_string())?.sidecar;
    let agreed = noted.agreed(id);
    let sheaf = if let Some(agreed) = agreed {
        agreed_marks(clip, agreed, state)?
    } else {
        let marks = found.marks.ok_or("nobody marked it yet")?;
        marks::load(marks, state).map_err(|error| error.to_string())?
    };
    let routine = &sheaf.routine;
    if book.event(&routine.event).is_none() || book.division(&routine.division).is_none() {
        return Err(format!("its event or division is not in the rule book \"{}\"", book.id));
    }
    let [from, to] = span_ms(&sheaf).ok_or("it has neither a span nor marks")?;
    let content = open_file(clip).and_then(|mut file| units::content_hash(&mut file));
    Ok(LookText {
        id: String::new(),
        clip: name_from(set_file, clip),
        clip_hash: content.map_err(|error| error.to_string())?,
        routine: id.to_owned(),
        from: from as f64 / 1000.0,
        to: to as f64 / 1000.0,
        event: routine.event.clone(),
        division: routine.division.clone(),
        question: questions(wishes.asks, agreed),
    })
}

/// Returns the marks that were agreed on, so that what is shown is what the answers are of.
fn agreed_marks(
    clip: &Path,
    agreed: &Agreed,
    state: Option<&StateFolder>,
) -> Result<Sheaf, String> {
    let path = clip.with_file_name(&agreed.marks);
    let said = |why: String| {
        format!("{}, which was agreed on, cannot be used: {why}; agree anew", path.display())
    };
    let sheaf = marks::load(&path, state).map_err(|error| said(error.to_string()))?;
    if sheaf.routine.id != agreed.routine || !is_watched(&sheaf) {
        return Err(said("it holds no marks of this routine".to_owned()));
    }
    let seal_of = |name: &str| {
        let sheaf = marks::load(&clip.with_file_name(name), state).ok()?;
        is_watched(&sheaf).then(|| marks::seal(&sheaf))
    };
    if let Standing::Changed(place) = agreed.standing(seal_of) {
        let name = agreed.of.get(place).map_or("", |then| &then.marks);
        return Err(said(format!("{name} was changed since")));
    }
    Ok(sheaf)
}

/// Returns the milliseconds of the clip between which the routine is seen.
fn span_ms(sheaf: &Sheaf) -> Option<[i64; 2]> {
    let base = sheaf.clip.as_ref()?.time_base;
    if let Some([from, to]) = &sheaf.routine.span {
        return Some([ms(base, from)[0], ms(base, to)[1]]);
    }
    let frames = || sheaf.marks.iter().flat_map(|mark| mark.at.frames());
    let first = frames().min_by_key(FrameRef::order)?;
    let last = frames().max_by_key(FrameRef::order)?;
    Some([(ms(base, &first)[0] - AROUND_MS).max(0), ms(base, &last)[1] + AROUND_MS])
}

fn ms(base: TimeBase, frame: &FrameRef) -> [i64; 2] {
    TimeBase::new(1, 1000)
        .map_or([0, 0], |thousandths| base.in_base(frame.ticks, thousandths).map(|ticks| ticks.0))
}

/// Returns the questions with the agreed answers; those about single elements are only asked where
/// something was agreed on.
fn questions(asks: &[Ask], agreed: Option<&Agreed>) -> Vec<QuestionText> {
    let calls = agreed.map_or(&[][..], |agreed| &agreed.calls);
    let call = |name: &str| answer(calls, name);
    let is_void = call("void") == Some("yes");
    let one = |said: &str| Some(AnswerText::One(said.to_owned()));
    let mut questions = Vec::new();
    for (word, ask) in Ask::ALL.iter().filter(|(_, ask)| asks.contains(ask)) {
        let blank = || QuestionText { ask: word, of: String::new(), answer: None, close: false };
        let answer = match ask {
            Ask::Void => call("void").and_then(|_| one(if is_void { "void" } else { "score" })),
            Ask::StartValue => call("start value").and_then(one),
            Ask::Score if !is_void => call("score").and_then(one),
            Ask::Missing | Ask::Elements if agreed.is_some() => {
                let (ids, close) = match ask {
                    Ask::Missing => missing(calls),
                    _ => (shown(calls).map(|(id, _)| id.to_owned()).collect(), false),
                };
                questions.push(QuestionText {
                    answer: Some(AnswerText::Several(ids)),
                    close,
                    ..blank()
                });
                continue;
            }
            Ask::Credited => {
                questions.extend(shown(calls).filter_map(|(_, call)| {
                    let answer = match call.answer.as_str() {
                        "met" => one("yes"),
                        "missed" => one("no"),
                        "close" => None,
                        // What is not counted for another reason is no question of credit.
                        _ => return None,
                    };
                    let close = answer.is_none();
                    Some(QuestionText { of: call.label.clone(), answer, close, ..blank() })
                }));
                continue;
            }
            _ => None,
        };
        questions.push(QuestionText { answer, ..blank() });
    }
    questions
}

/// Returns the requirements that were agreed to be missing, and whether one of them is close.
fn missing(calls: &[AgreedCall]) -> (Vec<String>, bool) {
    let asked = |call: &AgreedCall| call.asks.strip_prefix("requirement ").map(str::to_owned);
    let of = |answer: &str| {
        let found = calls.iter().filter(|call| call.answer == answer);
        found.filter_map(asked).collect::<Vec<String>>()
    };
    (of("missed"), !of("close").is_empty())
}

/// Returns the elements in the order of the sheet, by id, each with what was agreed on its value.
fn shown(calls: &[AgreedCall]) -> impl Iterator<Item = (&str, &AgreedCall)> {
    calls.iter().filter_map(|call| {
        let (id, _) = call.asks.strip_prefix("value of ")?.rsplit_once(' ')?;
        Some((id, call))
    })
}

/// Returns a clip's name as a set at `set_file` gives it.
fn name_from(set_file: &Path, clip: &Path) -> String {
    let folder = std::path::absolute(set_file).unwrap_or_else(|_| set_file.to_owned());
    let within = folder.parent().and_then(|folder| clip.strip_prefix(folder).ok());
    within.unwrap_or(clip).to_string_lossy().into_owned()
}
