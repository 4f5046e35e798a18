//! A sitting as a pure state machine: every step is an event, every wish to the outside an effect.
//!
//! The order is fixed: cue, one look, answers, answers on disk, and only then the still, a second
//! answer, the line and the number, the reference call.

use super::record::{Given, Mode, Record};
use crate::practice::set::{Answer, Ask, Form, Look, Question, Set};

/// A sitting at work.
#[derive(Clone, Debug)]
pub struct Sitting {
    looks: Vec<Look>,
    mode: Mode,
    limit_ms: u64,
    at: usize,
    stage: Stage,
    drafts: Vec<Option<Answer>>,
    dropped: u32,
    interrupted: bool,
    /// The second answer to the question on screen.
    after: Option<Answer>,
}

/// Where a sitting stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    /// The cue is shown; nothing was played.
    Cue,
    /// That the look begins is being written; nothing is played yet.
    Opening,
    /// The span plays, once; answers may be typed.
    Looking,
    /// The look is over; answers are typed until the time is up.
    Answering {
        /// When it began, in milliseconds since the caller opened the sitting.
        since_ms: u64,
    },
    /// The answers are being written; nothing is shown yet.
    Writing {
        /// Whether the time was up.
        time_up: bool,
    },
    /// The still of a question is shown; a second answer may be typed.
    Still(usize),
    /// The second answer is being written.
    Keeping(usize),
    /// The line and the number are shown.
    Line(usize),
    /// The reference call and why are shown.
    Reference(usize),
    /// That a look cannot be shown is being written.
    Skipping {
        /// Why, in words.
        why: String,
    },
    /// Every look is done.
    Done,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Event {
    /// The person is ready to look.
    Ready,
    /// The look cannot be shown, and why.
    CannotShow(String),
    /// An answer was typed for a question of the look; nothing takes it back.
    Typed(usize, Option<Answer>),
    /// The span was played to its end.
    LookEnded {
        /// Pictures that playback dropped.
        dropped: u32,
        /// Now, in milliseconds since the caller opened the sitting.
        now_ms: u64,
    },
    /// Time went on.
    Tick {
        /// Now, in milliseconds since the caller opened the sitting.
        now_ms: u64,
    },
    /// The person hands the answers in.
    HandedIn,
    /// What was to be written is on the disk.
    Written,
    /// It could not be written; the same is tried again.
    NotWritten,
    /// A second answer was typed.
    TypedAfter(Option<Answer>),
    /// The person goes on.
    Next,
}

/// What the outside has to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Write this and flush it to the disk, then say `Written`.
    Write(Record),
    /// Play the span of the look once.
    Play,
}

/// Why something was not done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// It is not the time for it.
    #[error("not now")]
    OutOfTurn,
    /// The answers are handed in.
    #[error("the answers are handed in and stay as they are")]
    HandedIn,
    /// The score was given before the start value.
    #[error("give the start value first")]
    StartValueFirst,
    /// There is no such question, or the answer is of another form.
    #[error("this is no answer to that question")]
    NoAnswer,
}

impl Sitting {
    /// Begins a sitting of these looks of the set, or takes one up again where its records end.
    ///
    /// A look that began and was not answered is not shown again: its answers are asked for.
    pub fn new(set: &Set, mode: Mode, looks: &[String], records: &[Record]) -> Self {
        let mut looks: Vec<Look> = looks.iter().filter_map(|id| set.look(id)).cloned().collect();
        if mode == Mode::Group {
            // Hands can only be counted where there are words to raise them for.
            for look in &mut looks {
                look.questions.retain(|question| choices(question).is_some());
            }
        }
        let mut sitting = Self {
            looks,
            mode,
            limit_ms: u64::from(set.seconds) * 1000,
            at: 0,
            stage: Stage::Cue,
            drafts: Vec::new(),
            dropped: 0,
            interrupted: false,
            after: None,
        };
        sitting.begin_look(0);
        for record in records {
            sitting.replay(record);
        }
        sitting
    }

    /// Returns where it stands.
    pub const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// Returns all its looks.
    pub fn looks(&self) -> &[Look] {
        &self.looks
    }

    /// Returns the look that it is about; nothing when all are done.
    pub fn look(&self) -> Option<&Look> {
        self.looks.get(self.at)
    }

    /// Returns the number of the look, from 1, and how many there are.
    pub fn place(&self) -> (usize, usize) {
        ((self.at + 1).min(self.looks.len()), self.looks.len())
    }

    /// Returns whether nothing is left to answer: all is done, or only the last reference call is
    /// still to be seen.
    pub fn is_answered(&self) -> bool {
        let is_last = |question: usize| {
            self.at + 1 == self.looks.len()
                && self.look().is_some_and(|look| question + 1 == look.questions.len())
        };
        match self.stage {
            Stage::Done => true,
            Stage::Line(question) | Stage::Reference(question) => is_last(question),
            _ => false,
        }
    }

    /// Returns who answers.
    pub const fn mode(&self) -> Mode {
        self.mode
    }

    /// Returns the question whose still, line or reference call is shown.
    pub fn question(&self) -> Option<&Question> {
        match self.stage {
            Stage::Still(q) | Stage::Keeping(q) | Stage::Line(q) | Stage::Reference(q) => {
                self.look()?.questions.get(q)
            }
            _ => None,
        }
    }

    /// Returns the answers of the look as typed so far, question by question.
    pub fn answers(&self) -> &[Option<Answer>] {
        &self.drafts
    }

    /// Returns the second answer to the question that is shown.
    pub const fn answer_after(&self) -> Option<&Answer> {
        self.after.as_ref()
    }

    /// Returns pictures that playback dropped during the look.
    pub const fn dropped(&self) -> u32 {
        self.dropped
    }

    /// Returns whether the look that is answered was broken off, so that less of it was seen.
    pub const fn is_broken_off(&self) -> bool {
        self.interrupted
    }

    /// Returns the milliseconds left to answer; nothing when there is no limit or it is not the
    /// time for answers.
    pub fn left_ms(&self, now_ms: u64) -> Option<u64> {
        match self.stage {
            Stage::Answering { since_ms } if self.limit_ms > 0 => {
                Some(self.limit_ms.saturating_sub(now_ms.saturating_sub(since_ms)))
            }
            _ => None,
        }
    }

    /// Takes one event; what is refused changes nothing.
    pub fn take(&mut self, event: Event) -> Result<Vec<Effect>, Refused> {
        match (event, self.stage.clone()) {
            (Event::Ready, Stage::Cue) => Ok(self.open()),
            (Event::CannotShow(why), Stage::Cue) => Ok(self.skip(why)),
            (Event::Typed(question, answer), Stage::Looking | Stage::Answering { .. }) => {
                self.typed(question, answer)
            }
            (Event::LookEnded { dropped, now_ms }, Stage::Looking) => {
                self.dropped = dropped;
                self.stage = Stage::Answering { since_ms: now_ms };
                Ok(Vec::new())
            }
            (Event::Tick { now_ms }, Stage::Answering { .. }) => Ok(match self.left_ms(now_ms) {
                Some(0) => self.hand_in(true),
                _ => Vec::new(),
            }),
            (Event::Tick { .. }, _) => Ok(Vec::new()),
            (Event::HandedIn, Stage::Answering { .. }) => Ok(self.hand_in(false)),
            (Event::Written, stage) => self.written(&stage),
            (Event::NotWritten, stage) => self.write_again(&stage),
            (Event::TypedAfter(answer), Stage::Still(question)) => {
                self.check(question, answer.as_ref())?;
                self.after = answer;
                Ok(Vec::new())
            }
            (Event::Next, Stage::Still(question)) => {
                self.stage = Stage::Keeping(question);
                Ok(self.writes())
            }
            (Event::Next, Stage::Line(question)) => {
                self.stage = Stage::Reference(question);
                Ok(Vec::new())
            }
            (Event::Next, Stage::Reference(question)) => {
                self.go_on(question + 1);
                Ok(Vec::new())
            }
            (Event::Typed(..) | Event::HandedIn, Stage::Writing { .. } | Stage::Still(_)) => {
                Err(Refused::HandedIn)
            }
            _ => Err(Refused::OutOfTurn),
        }
    }

    fn begin_look(&mut self, at: usize) {
        self.at = at;
        self.stage = if at < self.looks.len() { Stage::Cue } else { Stage::Done };
        self.drafts = vec![None; self.look().map_or(0, |look| look.questions.len())];
        (self.dropped, self.interrupted, self.after) = (0, false, None);
    }

    fn open(&mut self) -> Vec<Effect> {
        self.stage = Stage::Opening;
        self.writes()
    }

    fn skip(&mut self, why: String) -> Vec<Effect> {
        self.stage = Stage::Skipping { why };
        self.writes()
    }

    fn typed(&mut self, question: usize, answer: Option<Answer>) -> Result<Vec<Effect>, Refused> {
        self.check(question, answer.as_ref())?;
        let asks =
            |place: usize| self.look().and_then(|look| look.questions.get(place)).map(|q| q.ask);
        let places =
            |ask: Ask| (0..self.drafts.len()).filter(move |place| asks(*place) == Some(ask));
        let owed = places(Ask::StartValue).any(|place| self.drafts[place].is_none());
        let scored = places(Ask::Score).any(|place| self.drafts[place].is_some());
        match (asks(question), &answer) {
            (Some(Ask::Score), Some(_)) if owed => return Err(Refused::StartValueFirst),
            // Nor may it be taken back once a score stands on it.
            (Some(Ask::StartValue), None) if scored => return Err(Refused::StartValueFirst),
            _ => {}
        }
        self.drafts[question] = answer;
        Ok(Vec::new())
    }

    /// Returns whether this is an answer to that question at all.
    fn check(&self, question: usize, answer: Option<&Answer>) -> Result<(), Refused> {
        let asked = self.look().and_then(|look| look.questions.get(question));
        let asked = asked.ok_or(Refused::NoAnswer)?;
        let fits = answer.is_none_or(|answer| fits(asked, self.mode, answer));
        if fits { Ok(()) } else { Err(Refused::NoAnswer) }
    }

    fn hand_in(&mut self, time_up: bool) -> Vec<Effect> {
        self.stage = Stage::Writing { time_up };
        self.writes()
    }

    fn written(&mut self, stage: &Stage) -> Result<Vec<Effect>, Refused> {
        match stage {
            Stage::Opening => {
                self.stage = Stage::Looking;
                return Ok(vec![Effect::Play]);
            }
            Stage::Writing { .. } => self.go_on(0),
            Stage::Keeping(question) => self.stage = Stage::Line(*question),
            Stage::Skipping { .. } => self.begin_look(self.at + 1),
            _ => return Err(Refused::OutOfTurn),
        }
        Ok(Vec::new())
    }

    fn write_again(&mut self, stage: &Stage) -> Result<Vec<Effect>, Refused> {
        match stage {
            Stage::Opening | Stage::Writing { .. } | Stage::Keeping(_) | Stage::Skipping { .. } => {
                Ok(self.writes())
            }
            _ => Err(Refused::OutOfTurn),
        }
    }

    /// Goes to the still of the question, or to the next look when there is none left.
    fn go_on(&mut self, question: usize) {
        self.after = None;
        if self.look().is_some_and(|look| question < look.questions.len()) {
            self.stage = Stage::Still(question);
        } else {
            self.begin_look(self.at + 1);
        }
    }

    /// Returns what the stage is waiting for to be written.
    fn writes(&self) -> Vec<Effect> {
        let Some(look) = self.look() else { return Vec::new() };
        let id = look.id.clone();
        let given = |question: &Question, answer: &Option<Answer>| Given {
            question: question.id.clone(),
            answer: answer.clone(),
        };
        let record = match &self.stage {
            Stage::Opening => Record::Looked { look: id },
            Stage::Writing { time_up } => Record::Answered {
                look: id,
                answers: look
                    .questions
                    .iter()
                    .zip(&self.drafts)
                    .map(|(q, a)| given(q, a))
                    .collect(),
                dropped: self.dropped,
                time_up: *time_up,
                interrupted: self.interrupted,
            },
            Stage::Keeping(question) => match look.questions.get(*question) {
                Some(question) => Record::After { look: id, given: given(question, &self.after) },
                None => return Vec::new(),
            },
            Stage::Skipping { why } => Record::Skipped { look: id, why: why.clone() },
            _ => return Vec::new(),
        };
        vec![Effect::Write(record)]
    }

    /// Takes up what a file says had happened before.
    fn replay(&mut self, record: &Record) {
        let here = |id: &String| self.looks.iter().position(|look| look.id == *id);
        match record {
            Record::Begun(_) => {}
            Record::Looked { look } => {
                if let Some(at) = here(look) {
                    self.begin_look(at);
                    self.interrupted = true;
                    self.stage = Stage::Answering { since_ms: 0 };
                }
            }
            Record::Answered { look, answers, dropped, .. } => {
                if let Some(at) = here(look) {
                    self.begin_look(at);
                    let asked = &self.looks[at].questions;
                    let of = |question: &Question| {
                        let given = answers.iter().find(|given| given.question == question.id);
                        given.and_then(|given| given.answer.clone())
                    };
                    self.drafts = asked.iter().map(of).collect();
                    self.dropped = *dropped;
                    self.go_on(0);
                }
            }
            Record::After { look, given } => {
                if here(look) == Some(self.at)
                    && let Some(place) = self.looks[self.at]
                        .questions
                        .iter()
                        .position(|question| question.id == given.question)
                {
                    self.after.clone_from(&given.answer);
                    self.stage = Stage::Line(place);
                }
            }
            Record::Skipped { look, .. } => {
                if let Some(at) = here(look) {
                    self.begin_look(at + 1);
                }
            }
        }
    }
}

/// Returns the words to choose from, where the question has any.
pub fn choices(question: &Question) -> Option<&'static [&'static str]> {
    match question.ask.form() {
        Form::Choice(words) => Some(words),
        _ => None,
    }
}

fn fits(question: &Question, mode: Mode, answer: &Answer) -> bool {
    match (mode, question.ask.form(), answer) {
        (Mode::Group, Form::Choice(words), Answer::Hands(hands)) => hands.len() == words.len(),
        (Mode::Group, ..) => false,
        (_, Form::Choice(words), Answer::Word(word)) => words.contains(&word.as_str()),
        (_, Form::InOrder | Form::AnyOrder, Answer::Words(_))
        | (_, Form::Count, Answer::Count(_))
        | (_, Form::Points, Answer::Points(_)) => true,
        (_, Form::Degrees, Answer::Degrees(degrees)) => degrees.is_finite(),
        _ => false,
    }
}
