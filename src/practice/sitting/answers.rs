//! Which answers a sitting takes.

use super::{
    machine::Sitting,
    record::Mode,
    steps::{Effect, Refused},
};
use crate::practice::set::{Answer, AnswerForm, Ask, Question};

impl Sitting {
    pub(super) fn typed(
        &mut self,
        question: usize,
        answer: Option<Answer>,
    ) -> Result<Vec<Effect>, Refused> {
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
    pub(super) fn check(&self, question: usize, answer: Option<&Answer>) -> Result<(), Refused> {
        let asked = self.look().and_then(|look| look.questions.get(question));
        let asked = asked.ok_or(Refused::NoAnswer)?;
        let fits = answer.is_none_or(|answer| fits(asked, self.mode, answer));
        if fits { Ok(()) } else { Err(Refused::NoAnswer) }
    }
}

fn fits(question: &Question, mode: Mode, answer: &Answer) -> bool {
    match (mode, question.ask.form(), answer) {
        (Mode::Group, AnswerForm::Choice(words), Answer::Hands(hands)) => {
            hands.len() == words.len()
        }
        (Mode::Group, ..) => false,
        (_, AnswerForm::Choice(words), Answer::Word(word)) => words.contains(&word.as_str()),
        (_, AnswerForm::InOrder | AnswerForm::AnyOrder, Answer::Words(_))
        | (_, AnswerForm::Count, Answer::Count(_))
        | (_, AnswerForm::Points, Answer::Points(_)) => true,
        (_, AnswerForm::Degrees, Answer::Degrees(degrees)) => degrees.is_finite(),
        _ => false,
    }
}
