//! Between a sitting and its file: what is to be written at each step, and taking up what was.

use super::{
    machine::Sitting,
    record::{Given, Record},
    steps::{Effect, SittingStage},
};
use crate::practice::set::{Answer, Question};

impl Sitting {
    /// Returns what the stage is waiting for to be written.
    pub(super) fn writes(&self) -> Vec<Effect> {
        let Some(look) = self.look() else { return Vec::new() };
        let id = look.id.clone();
        let given = |question: &Question, answer: &Option<Answer>| Given {
            question: question.id.clone(),
            answer: answer.clone(),
        };
        let record = match &self.stage {
            SittingStage::Opening => Record::Looked { look: id },
            SittingStage::Writing { time_up } => Record::Answered {
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
            SittingStage::Keeping(question) => match look.questions.get(*question) {
                Some(question) => Record::After { look: id, given: given(question, &self.after) },
                None => return Vec::new(),
            },
            SittingStage::Skipping { why } => Record::Skipped { look: id, why: why.clone() },
            _ => return Vec::new(),
        };
        vec![Effect::Write(record)]
    }

    /// Takes up what a file says had happened before.
    pub(super) fn replay(&mut self, record: &Record) {
        let here = |id: &String| self.looks.iter().position(|look| look.id == *id);
        match record {
            Record::Begun(_) => {}
            Record::Looked { look } => {
                if let Some(at) = here(look) {
                    self.begin_look(at);
                    self.interrupted = true;
                    self.stage = SittingStage::Answering { since_ms: 0 };
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
                    self.stage = SittingStage::Line(place);
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
