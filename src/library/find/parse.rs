//! Reading a search: words into a tree, with errors that say where and what else could stand there.

use std::fmt;

use jiff::{ToSpan as _, civil::Date};

use crate::library::{consent::sidecar::Purpose, index::entry::MOMENTS};

use super::query::{Edge, FORMS, OUTCOMES, Query, QueryField, QueryFlag, QueryRange, Term};

/// A search that was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QueryError {
    /// The search.
    pub query: String,
    /// Where in it, in characters from 0.
    pub at: usize,
    /// What is wrong there.
    pub message: String,
    /// What could stand there instead.
    pub help: String,
}

impl std::error::Error for QueryError {}

impl QueryError {
    /// How a range is written.
    pub const RANGES: &'static str = "a range is written: 110 to 125, within 5 of horizontal, \
        within 10 of 90, above 0.3, below 8, at least 120, at most 45";
}

impl fmt::Display for QueryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let caret = " ".repeat(self.at) + "^";
        write!(f, "{}\n  {}\n  {caret}\n{}", self.message, self.query, self.help)
    }
}

/// Reads a search. An empty one finds everything.
pub fn parse(text: &str) -> Result<Query, QueryError> {
    let mut parser = Parser { text, tokens: tokens(text)?, next: 0, depth: 0 };
    if let Some(token) = parser.tokens.get(MOST_WORDS) {
        return Err(parser.error(token.at, "more than 400 words", "search for less at once"));
    }
    if parser.tokens.is_empty() {
        return Ok(Query::All(Vec::new()));
    }
    let query = parser.any()?;
    match parser.tokens.get(parser.next) {
        None => Ok(query),
        Some(token) => Err(parser.error(token.at, "a ) without its (", "take it away")),
    }
}

#[derive(Clone, Debug)]
struct Token {
    at: usize,
    text: String,
    quoted: bool,
}

/// Splits a search into words, quoted phrases and brackets.
fn tokens(text: &str) -> Result<Vec<Token>, QueryError> {
    let letters: Vec<char> = text.chars().collect();
    let (mut tokens, mut at) = (Vec::new(), 0);
    while let Some(&letter) = letters.get(at) {
        let begin = at;
        at += 1;
        let (text, quoted) = match letter {
            letter if letter.is_whitespace() => continue,
            '(' | ')' => (letter.to_string(), false),
            '"' => {
                let rest = letters[at..].iter().take_while(|&&letter| letter != '"');
                let phrase: String = rest.collect();
                at += phrase.chars().count() + 1;
                if at > letters.len() {
                    return Err(QueryError {
                        query: text.to_owned(),
                        at: begin,
                        message: "a quotation mark that is not closed".to_owned(),
                        help: "put another \" at the end of the phrase".to_owned(),
                    });
                }
                (phrase, true)
            }
            _ => {
                let stops = |letter: char| letter.is_whitespace() || "()\"".contains(letter);
                at += letters[at..].iter().take_while(|&&letter| !stops(letter)).count();
                (letters[begin..at].iter().collect(), false)
            }
        };
        tokens.push(Token { at: begin, text, quoted });
    }
    Ok(tokens)
}

struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Token>,
    next: usize,
    /// How many brackets and words `not` are open.
    depth: usize,
}

/// Conditions within conditions, at most; nobody reads more, and each takes room on the stack.
const DEEPEST: usize = 32;
/// Conditions of one search, at most.
const MOST_WORDS: usize = 400;

type Parsed<T> = Result<T, QueryError>;

impl Parser<'_> {
    fn any(&mut self) -> Parsed<Query> {
        let mut choices = vec![self.all()?];
        while self.take("or") {
            choices.push(self.all()?);
        }
        Ok(one_or(choices, Query::Any))
    }

    fn all(&mut self) -> Parsed<Query> {
        let mut parts = vec![self.part()?];
        while self.peek().is_some_and(|token| !is_word(token, "or") && !is_word(token, ")")) {
            self.take("and");
            parts.push(self.part()?);
        }
        Ok(one_or(parts, Query::All))
    }

    fn part(&mut self) -> Parsed<Query> {
        if self.depth == DEEPEST {
            let at = self.peek().map_or(0, |token| token.at);
            return Err(self.error(
                at,
                "more brackets within brackets than 32",
                "write it shorter",
            ));
        }
        self.depth += 1;
        let part = self.part_within();
        self.depth -= 1;
        part
    }

    fn part_within(&mut self) -> Parsed<Query> {
        if self.take("not") {
            return Ok(Query::Not(Box::new(self.part()?)));
        }
        if self.peek().is_some_and(|token| is_word(token, "(")) {
            let open = self.token("a condition")?.at;
            let inner = self.any()?;
            if !self.take(")") {
                return Err(self.error(open, "a ( that is not closed", "put a ) after it"));
            }
            return Ok(inner);
        }
        self.term().map(Query::Term)
    }

    fn term(&mut self) -> Parsed<Term> {
        let token = self.token("a condition")?;
        if token.quoted {
            return self.name_or_words(token.text);
        }
        let field = |field| -> Option<QueryField> { Some(field) };
        let field = match token.text.as_str() {
            "event" => field(QueryField::Event),
            "division" => field(QueryField::Division),
            "athlete" => field(QueryField::Athlete),
            "judge" => field(QueryField::Judge),
            "book" => field(QueryField::Book),
            "edition" => field(QueryField::Edition),
            _ => None,
        };
        if let Some(field) = field {
            return Ok(Term::Is(
                field,
                self.token(&format!("what {} is asked for", token.text))?.text,
            ));
        }
        match token.text.as_str() {
            "element" => Ok(Term::Element(self.token("the name of an element")?.text)),
            "moment" => self.one_of(&MOMENTS).map(Term::Moment),
            "requirement" => self.requirement(),
            "fault" => self.fault(),
            "score" => self.needed_range().map(Term::Score),
            "date" => self.date(),
            "pictures" => self.one_of(&PURPOSES).map(|purpose| Term::Allowed("pictures", purpose)),
            "sets" => self.one_of(&PURPOSES).map(|purpose| Term::Allowed("sets", purpose)),
            word => match flag(word) {
                Some(flag) => Ok(Term::Flag(flag)),
                None => self.name_or_words(token.text),
            },
        }
    }

    /// Reads what follows a name: a range makes it an angle, anything else a word to look for.
    fn name_or_words(&mut self, name: String) -> Parsed<Term> {
        match self.range()? {
            QueryRange::Any => Ok(Term::Words(name)),
            range => Ok(Term::Angle(name, range)),
        }
    }

    fn requirement(&mut self) -> Parsed<Term> {
        let name = self.token("the name of a requirement")?.text;
        let outcome = OUTCOMES.into_iter().find(|(word, _)| self.take(word));
        Ok(Term::Requirement(name, outcome.map(|(_, outcome)| outcome)))
    }

    fn fault(&mut self) -> Parsed<Term> {
        let range = self.range()?;
        if !range.is_any() {
            return Ok(Term::Fault(None, range));
        }
        let begins_another = |token: &Token| {
            !token.quoted
                && (["and", "or", "not", "(", ")"].contains(&token.text.as_str())
                    || is_keyword(&token.text))
        };
        if self.peek().is_none_or(begins_another) {
            return Ok(Term::Fault(None, QueryRange::Any));
        }
        let name = self.token("the name of a fault")?.text;
        Ok(Term::Fault(Some(name), self.range()?))
    }

    fn needed_range(&mut self) -> Parsed<QueryRange> {
        match self.range()? {
            QueryRange::Any => Err(self.error(self.here(), "a range is missing here", RANGES)),
            range => Ok(range),
        }
    }

    /// Reads a range, or nothing where none begins.
    fn range(&mut self) -> Parsed<QueryRange> {
        let Some(token) = self.peek().filter(|token| !token.quoted).cloned() else {
            return Ok(QueryRange::Any);
        };
        let one = |this: &mut Self, range: fn(f64) -> QueryRange| {
            this.next += 1;
            this.number().map(range)
        };
        match token.text.as_str() {
            "above" => one(self, QueryRange::Above),
            "below" => one(self, QueryRange::Below),
            "at" => {
                self.next += 1;
                if self.take("least") {
                    return self.number().map(QueryRange::AtLeast);
                }
                if self.take("most") {
                    return self.number().map(QueryRange::AtMost);
                }
                Err(self.error(self.here(), "after \"at\" comes \"least\" or \"most\"", RANGES))
            }
            "within" => self.within(),
            text if number(text).is_some() => {
                let from = self.number()?;
                if !self.take("to") {
                    return Ok(QueryRange::Between(from, from));
                }
                let to = self.number()?;
                Ok(QueryRange::Between(from.min(to), from.max(to)))
            }
            _ => Ok(QueryRange::Any),
        }
    }

    fn within(&mut self) -> Parsed<QueryRange> {
        self.next += 1;
        let tolerance = self.number()?;
        if !self.take("of") {
            return Err(self.error(self.here(), "\"of\" is missing here", RANGES));
        }
        let edge = if self.take("horizontal") {
            Edge::Horizontal
        } else if self.take("vertical") {
            Edge::Vertical
        } else {
            Edge::Number(self.number()?)
        };
        Ok(QueryRange::Within(tolerance, edge))
    }

    fn number(&mut self) -> Parsed<f64> {
        let token = self.token("a number")?;
        number(&token.text).ok_or_else(|| {
            let message = format!("\"{}\" is no number", token.text);
            self.error(token.at, &message, RANGES)
        })
    }

    fn date(&mut self) -> Parsed<Term> {
        if self.take("before") {
            let day = self.day()?.0;
            return Ok(Term::Date(None, day.yesterday().ok()));
        }
        if self.take("after") {
            let day = self.day()?.1;
            return Ok(Term::Date(day.tomorrow().ok(), None));
        }
        let (from, mut to) = self.day()?;
        if self.take("to") {
            to = self.day()?.1;
        }
        Ok(Term::Date(Some(from), Some(to)))
    }

    /// Reads a day, a month or a year and returns its first and last day.
    fn day(&mut self) -> Parsed<(Date, Date)> {
        let token = self.token("a date such as 2026-10-17, 2026-10 or 2026")?;
        let read = |text: String| text.parse::<Date>().ok();
        let months = |first: Option<Date>, months: i32| {
            let first = first?;
            let next = first.checked_add(months.months()).ok()?;
            Some((first, next.yesterday().ok()?))
        };
        let text = token.text.as_str();
        let span = match text.len() {
            4 => months(read(format!("{text}-01-01")), 12),
            7 => months(read(format!("{text}-01")), 1),
            _ => read(text.to_owned()).map(|day| (day, day)),
        };
        span.ok_or_else(|| {
            let message = format!("\"{text}\" is no date");
            self.error(
                token.at,
                &message,
                "write a day, a month or a year: 2026-10-17, 2026-10, 2026",
            )
        })
    }

    fn one_of(&mut self, known: &[&str]) -> Parsed<String> {
        let token = self.token(&format!("one of {}", known.join(", ")))?;
        if known.contains(&token.text.as_str()) {
            return Ok(token.text);
        }
        let near = known.iter().max_by(|a, b| {
            let [a, b] = [a, b].map(|word| strsim::jaro_winkler(word, &token.text));
            a.total_cmp(&b)
        });
        let help = match near.filter(|word| strsim::jaro_winkler(word, &token.text) > 0.8) {
            Some(word) => format!("did you mean {word}?"),
            None => format!("it is one of {}", known.join(", ")),
        };
        Err(self.error(token.at, &format!("\"{}\" is not known here", token.text), &help))
    }

    /// Takes the next token, or says that `wanted` is missing.
    fn token(&mut self, wanted: &str) -> Parsed<Token> {
        let stops =
            |token: &Token| is_word(token, ")") || is_word(token, "or") || is_word(token, "and");
        match self.peek().filter(|token| !stops(token)).cloned() {
            Some(token) => {
                self.next += 1;
                Ok(token)
            }
            None => Err(self.error(
                self.here(),
                &format!("here {wanted} is missing"),
                "`stillcall library find --help-words` lists what can be said",
            )),
        }
    }

    fn take(&mut self, word: &str) -> bool {
        let is_there = self.peek().is_some_and(|token| is_word(token, word));
        self.next += usize::from(is_there);
        is_there
    }

    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.next)
    }

    fn here(&self) -> usize {
        self.peek().map_or_else(|| self.text.chars().count(), |token| token.at)
    }

    fn error(&self, at: usize, message: &str, help: &str) -> QueryError {
        let (message, help) = (message.to_owned(), help.to_owned());
        QueryError { query: self.text.to_owned(), at, message, help }
    }
}

const RANGES: &str = QueryError::RANGES;

pub(crate) const PURPOSES: [&str; 4] = [
    Purpose::Training.word(),
    Purpose::Library.word(),
    Purpose::Course.word(),
    Purpose::Publication.word(),
];

fn one_or(mut parts: Vec<Query>, many: fn(Vec<Query>) -> Query) -> Query {
    match parts.len() {
        1 => parts.remove(0),
        _ => many(parts),
    }
}

fn is_word(token: &Token, word: &str) -> bool {
    !token.quoted && token.text == word
}

fn is_keyword(word: &str) -> bool {
    FORMS.iter().any(|form| form.word == word)
}

fn number(text: &str) -> Option<f64> {
    let text = text.trim_end_matches('°');
    let digits = text.trim_start_matches('-');
    let plain = !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    text.parse().ok().filter(|_| plain)
}

fn flag(word: &str) -> Option<QueryFlag> {
    Some(match word {
        "void" => QueryFlag::Void,
        "close" => QueryFlag::Close,
        "agreed" => QueryFlag::Agreed,
        "reference" => QueryFlag::Reference,
        "marked" => QueryFlag::Marked,
        "planned" => QueryFlag::Planned,
        "gone" => QueryFlag::Gone,
        "away" => QueryFlag::Away,
        "altered" => QueryFlag::Altered,
        "duplicate" => QueryFlag::Duplicate,
        "due" => QueryFlag::Due,
        _ => return None,
    })
}
