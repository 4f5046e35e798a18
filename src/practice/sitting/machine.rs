//! A sitting as a pure state machine: every step is an event, every wish to the outside an effect.
//!
//! The order is fixed: cue, one look, answers, answers on disk, and only then the still, a second
//! answer, the line and the number, the reference call.

use super::{
    record::{Mode, Record},
    steps::{Effect, Refused, SittingEvent, SittingStage},
};
use crate::practice::set::{Answer, Look, Question, Set};

/// A sitting at work.
#[derive(Clone, Debug)]
pub struct Sitting {
    pub(super) looks: Vec<Look>,
    pub(super) mode: Mode,
    pub(super) limit_ms: u64,
    pub(super) at: usize,
    pub(super) stage: SittingStage,
    pub(super) drafts: Vec<Option<Answer>>,
    pub(super) dropped: u32,
    pub(super) interrupted: bool,
    /// The second answer to the question on screen.
    pub(super) after: Option<Answer>,
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
                look.questions.retain(|question| question.choices().is_some());
            }
        }
        let mut sitting = Self {
            looks,
            mode,
            limit_ms: u64::from(set.seconds) * 1000,
            at: 0,
            stage: SittingStage::Cue,
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
    pub const fn stage(&self) -> &SittingStage {
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
            SittingStage::Done => true,
            SittingStage::Line(question) | SittingStage::Reference(question) => is_last(question),
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
            SittingStage::Still(q)
            | SittingStage::Keeping(q)
            | SittingStage::Line(q)
            | SittingStage::Reference(q) => self.look()?.questions.get(q),
            _ => None,
        }
    }

    /// Returns the answers of the look as typed so far, question by question.
    pub fn answers(&self) -> &[Option<Answer>] {
        &self.drafts
    }

    /// Returns the second answer to the question that is shown.
    pub(crate) const fn answer_after(&self) -> Option<&Answer> {
        self.after.as_ref()
    }

    /// Returns pictures that playback dropped during the look.
    pub const fn dropped(&self) -> u32 {
        self.dropped
    }

    /// Returns whether the look that is answered was broken off, so that less of it was seen.
    pub(crate) const fn is_broken_off(&self) -> bool {
        self.interrupted
    }

    /// Returns the milliseconds left to answer; nothing when there is no limit or it is not the
    /// time for answers.
    pub fn left_ms(&self, now_ms: u64) -> Option<u64> {
        match self.stage {
            SittingStage::Answering { since_ms } if self.limit_ms > 0 => {
                Some(self.limit_ms.saturating_sub(now_ms.saturating_sub(since_ms)))
            }
            _ => None,
        }
    }

    /// Takes one event; what is refused changes nothing.
    pub fn take(&mut self, event: SittingEvent) -> Result<Vec<Effect>, Refused> {
        match (event, self.stage.clone()) {
            (SittingEvent::Ready, SittingStage::Cue) => Ok(self.open()),
            (SittingEvent::CannotShow(why), SittingStage::Cue) => Ok(self.skip(why)),
            (
                SittingEvent::Typed(question, answer),
                SittingStage::Looking | SittingStage::Answering { .. },
            ) => self.typed(question, answer),
            (SittingEvent::LookEnded { dropped, now_ms }, SittingStage::Looking) => {
                self.dropped = dropped;
                self.stage = SittingStage::Answering { since_ms: now_ms };
                Ok(Vec::new())
            }
            (SittingEvent::Tick { now_ms }, SittingStage::Answering { .. }) => {
                Ok(match self.left_ms(now_ms) {
                    Some(0) => self.hand_in(true),
                    _ => Vec::new(),
                })
            }
            (SittingEvent::Tick { .. }, _) => Ok(Vec::new()),
            (SittingEvent::HandedIn, SittingStage::Answering { .. }) => Ok(self.hand_in(false)),
            (SittingEvent::Written, stage) => self.written(&stage),
            (SittingEvent::NotWritten, stage) => self.write_again(&stage),
            (SittingEvent::TypedAfter(answer), SittingStage::Still(question)) => {
                self.check(question, answer.as_ref())?;
                self.after = answer;
                Ok(Vec::new())
            }
            (SittingEvent::Next, SittingStage::Still(question)) => {
                self.stage = SittingStage::Keeping(question);
                Ok(self.writes())
            }
            (SittingEvent::Next, SittingStage::Line(question)) => {
                self.stage = SittingStage::Reference(question);
                Ok(Vec::new())
            }
            (SittingEvent::Next, SittingStage::Reference(question)) => {
                self.go_on(question + 1);
                Ok(Vec::new())
            }
            (
                SittingEvent::Typed(..) | SittingEvent::HandedIn,
                SittingStage::Writing { .. } | SittingStage::Still(_),
            ) => Err(Refused::HandedIn),
            (_, stage) => Err(Refused::OutOfTurn(stage.first())),
        }
    }

    pub(super) fn begin_look(&mut self, at: usize) {
        self.at = at;
        self.stage = if at < self.looks.len() { SittingStage::Cue } else { SittingStage::Done };
        self.drafts = vec![None; self.look().map_or(0, |look| look.questions.len())];
        (self.dropped, self.interrupted, self.after) = (0, false, None);
    }

    fn open(&mut self) -> Vec<Effect> {
        self.stage = SittingStage::Opening;
        self.writes()
    }

    fn skip(&mut self, why: String) -> Vec<Effect> {
        self.stage = SittingStage::Skipping { why };
        self.writes()
    }

    fn hand_in(&mut self, time_up: bool) -> Vec<Effect> {
        self.stage = SittingStage::Writing { time_up };
        self.writes()
    }

    fn written(&mut self, stage: &SittingStage) -> Result<Vec<Effect>, Refused> {
        match stage {
            SittingStage::Opening => {
                self.stage = SittingStage::Looking;
                return Ok(vec![Effect::Play]);
            }
            SittingStage::Writing { .. } => self.go_on(0),
            SittingStage::Keeping(question) => self.stage = SittingStage::Line(*question),
            SittingStage::Skipping { .. } => self.begin_look(self.at + 1),
            _ => return Err(Refused::OutOfTurn(stage.first())),
        }
        Ok(Vec::new())
    }

    fn write_again(&mut self, stage: &SittingStage) -> Result<Vec<Effect>, Refused> {
        match stage {
            SittingStage::Opening
            | SittingStage::Writing { .. }
            | SittingStage::Keeping(_)
            | SittingStage::Skipping { .. } => Ok(self.writes()),
            _ => Err(Refused::OutOfTurn(stage.first())),
        }
    }

    /// Goes to the still of the question, or to the next look when there is none left.
    pub(super) fn go_on(&mut self, question: usize) {
        self.after = None;
        if self.look().is_some_and(|look| question < look.questions.len()) {
            self.stage = SittingStage::Still(question);
        } else {
            self.begin_look(self.at + 1);
        }
    }
}
