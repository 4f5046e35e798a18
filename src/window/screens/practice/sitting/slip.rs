//! The slip: what is typed as answers, before it is handed in.

use crate::{
    practice::{
        set::{self, Answer, Ask, Question, Word},
        sitting::{Mode, Refused},
    },
    window::typing::{Line, Reach, Typed, Wish},
};

/// Names that are offered for what is typed, at most.
const OFFERS: usize = 5;

/// Answers being typed, question by question.
#[derive(Debug, Default)]
pub(crate) struct Slip {
    entries: Vec<Entry>,
    /// The field that is written in, counted over all questions; one more is the end of the slip.
    at: usize,
}

/// The answer to one question.
#[derive(Debug)]
pub(crate) struct Entry {
    /// The question in words.
    pub asked: String,
    /// The words to choose from, where there are any.
    pub choices: Option<&'static [&'static str]>,
    /// One field, or with a group one for each word.
    pub lines: Vec<Line>,
    /// Number of its first field on the slip.
    pub first: usize,
    /// Why what is typed is no answer.
    pub complaint: Option<String>,
    ask: Ask,
    mode: Mode,
    words: Vec<Word>,
}

impl Slip {
    /// Returns a blank slip.
    pub(crate) fn blank(asked: &[Question], mode: Mode, words: &dyn Fn(Ask) -> Vec<Word>) -> Self {
        let mut slip = Self::default();
        for question in asked {
            let choices = question.choices();
            let fields = match (mode, choices) {
                (Mode::Group, Some(words)) => words.len(),
                _ => 1,
            };
            let first = slip.fields();
            slip.entries.push(Entry {
                asked: question.words(),
                choices,
                lines: vec![Line::default(); fields],
                first,
                complaint: None,
                ask: question.ask,
                mode,
                words: words(question.ask),
            });
        }
        slip
    }

    /// Returns how many questions it has.
    pub(crate) fn len(&self) -> usize {
        self.entries.len()
    }

    /// Returns all its questions.
    pub(crate) fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Returns the number of the field that is written in.
    pub(crate) const fn at(&self) -> usize {
        self.at
    }

    /// Returns the place of the question that is written in; nothing at the end of the slip.
    pub(crate) fn question(&self) -> Option<usize> {
        self.entries.iter().rposition(|entry| entry.first <= self.at).filter(|_| !self.is_at_end())
    }

    fn fields(&self) -> usize {
        self.entries.last().map_or(0, |last| last.first + last.lines.len())
    }

    /// Returns whether all fields are passed.
    pub(crate) fn is_at_end(&self) -> bool {
        self.at >= self.fields()
    }

    /// Returns whether another field follows.
    pub(crate) fn has_more(&self) -> bool {
        self.at + 1 < self.fields()
    }

    /// Returns how many questions have an answer.
    pub(crate) fn answered(&self) -> usize {
        (0..self.len()).filter(|place| self.answer(*place).is_some()).count()
    }

    /// Goes so many fields on; the last stop is the end of the slip.
    pub(crate) fn turn(&mut self, by: i8) {
        self.go_to(self.at.saturating_add_signed(by.into()));
    }

    /// Goes to a field.
    pub(crate) fn go_to(&mut self, field: usize) {
        self.at = field.min(self.fields());
    }

    /// Takes in what was typed.
    pub(crate) fn take(&mut self, typed: &Typed) -> Wish {
        let at = self.at;
        let Some(place) = self.question() else { return Wish::None };
        let entry = &mut self.entries[place];
        let wish = entry.take(at - entry.first, typed);
        entry.complaint = entry.read().err();
        wish
    }

    /// Takes one of the words to choose from.
    pub(crate) fn choose(&mut self, field: usize, word: &str) {
        self.go_to(field);
        if let Some(place) = self.question() {
            let entry = &mut self.entries[place];
            (entry.lines[0], entry.complaint) = (Line::new(word), None);
        }
    }

    /// Completes the name that is being typed.
    pub(crate) fn complete(&mut self, name: &str) {
        if let Some(place) = self.question() {
            let entry = &mut self.entries[place];
            let typed = entry.lines[0].text();
            let before = typed.rfind(',').map_or("", |comma| &typed[..=comma]);
            let gap = if before.is_empty() { "" } else { " " };
            entry.lines[0] = Line::new(format!("{before}{gap}{name}, "));
            entry.complaint = entry.read().err();
        }
    }

    /// Returns the answer to a question; nothing where there is none, or none that can be read.
    pub(crate) fn answer(&self, place: usize) -> Option<Answer> {
        self.entries.get(place)?.read().ok()?
    }

    /// Takes note whether an answer was taken, or why not.
    pub(crate) fn judge(&mut self, place: usize, refused: Option<Refused>) {
        if let Some(entry) = self.entries.get_mut(place) {
            entry.complaint = refused.map(|why| why.to_string());
        }
    }

    /// Goes to the first answer that cannot be read or was not taken, where there is one.
    pub(crate) fn find_unreadable(&mut self) -> bool {
        let found = self.entries.iter().find(|entry| entry.complaint.is_some());
        let Some(first) = found.map(|entry| entry.first) else { return false };
        self.at = first;
        true
    }
}

impl Entry {
    fn take(&mut self, line: usize, typed: &Typed) -> Wish {
        match self.choices.filter(|_| self.mode == Mode::Person) {
            Some(words) => {
                self.take_choice(words, typed);
                Wish::None
            }
            None => self.lines[line].take(typed),
        }
    }

    /// A letter takes the word that begins with it, an arrow the next one.
    fn take_choice(&mut self, words: &[&str], typed: &Typed) {
        let here = words.iter().position(|word| *word == self.lines[0].text());
        let word = match typed {
            Typed::Text(text) => {
                let begins = |word: &&&str| word.starts_with(&text.trim().to_lowercase());
                if text.trim().is_empty() { None } else { words.iter().find(begins) }
            }
            Typed::Move { to: Reach::After, .. } => {
                words.get(here.map_or(0, |here| (here + 1).min(words.len() - 1)))
            }
            Typed::Move { to: Reach::Before, .. } => {
                words.get(here.map_or(words.len() - 1, |here| here.saturating_sub(1)))
            }
            Typed::Erase(_) | Typed::Cut => {
                self.lines[0] = Line::default();
                None
            }
            _ => None,
        };
        if let Some(word) = word {
            self.lines[0] = Line::new(*word);
        }
    }

    /// Returns the answer that is typed, or why it is none.
    fn read(&self) -> Result<Option<Answer>, String> {
        match self.mode {
            Mode::Person => set::entered(self.ask, self.lines[0].text(), &self.words)
                .map_err(|error| error.to_string()),
            Mode::Group => {
                let counts = self.lines.iter().map(|line| line.text().trim());
                // Hands that nobody counted for one word are none, once one word has a count.
                if counts.clone().all(str::is_empty) {
                    return Ok(None);
                }
                let counts = counts.map(|count| if count.is_empty() { "0" } else { count });
                let typed = counts.collect::<Vec<_>>().join(" ");
                set::hands(self.ask, &typed).map_err(|error| error.to_string())
            }
        }
    }

    /// Returns names of the book that go on as the last name typed does.
    pub(crate) fn offers(&self) -> Vec<&Word> {
        let typed = self.lines[0].text();
        let last = typed.rsplit(',').next().unwrap_or("").trim().to_lowercase();
        let is_exact = |word: &Word| {
            [&word.id, &word.name, &word.shorthand].iter().any(|it| it.to_lowercase() == last)
        };
        if self.choices.is_some() || last.is_empty() || self.words.iter().any(is_exact) {
            return Vec::new();
        }
        let fits = |word: &&Word| {
            [&word.id, &word.name].iter().any(|known| known.to_lowercase().contains(&last))
        };
        self.words.iter().filter(fits).take(OFFERS).collect()
    }

    /// Returns the answer with the names of the book.
    pub(crate) fn words(&self, answer: &Answer) -> String {
        match answer {
            Answer::Words(ids) if !ids.is_empty() => {
                let name = |id: &String| {
                    let known = self.words.iter().find(|word| word.id == *id);
                    known.map_or(id.clone(), |word| word.name.clone())
                };
                ids.iter().map(name).collect::<Vec<_>>().join(", ")
            }
            Answer::Hands(hands) => {
                let words = self.choices.unwrap_or_default();
                let one = |(word, count): (&&str, &u32)| format!("{count} {word}");
                words.iter().zip(hands).map(one).collect::<Vec<_>>().join(", ")
            }
            other => other.words(),
        }
    }

    /// Returns what an answer looks like, for an empty field.
    pub(crate) const fn hint(&self) -> &'static str {
        match self.ask.form() {
            set::AnswerForm::Choice(_) => "hands",
            set::AnswerForm::InOrder | set::AnswerForm::AnyOrder => "names with commas, or none",
            set::AnswerForm::Count => "a number",
            set::AnswerForm::Degrees => "degrees",
            set::AnswerForm::Points => "points, such as 9.4",
        }
    }
}

#[cfg(test)]
mod tests;
