use std::{
    io::{self, BufRead as _, Write as _},
    path::{Path, PathBuf},
};

use crate::command::printed;
use clap::Args;
use stillcall::{
    library::{self, Code, FileKind, Home, Leaving, Of},
    practice::{
        set::{self, Answer, Question, Set, Word},
        sitting::{
            self, Begun, Effect, Mode, Record, Sitting, SittingEvent, SittingFile, SittingStage,
        },
    },
    report,
    rulebook::Book,
};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Set file: looks with their questions, see docs/practice.md.
    set: PathBuf,
    /// Code of the person who sits it, never a name; the window asks where there is none.
    #[arg(long, value_name = "CODE")]
    person: Option<String>,
    /// A group raises its hands; counts are kept, without names.
    #[arg(long)]
    group: bool,
    /// Type the answers of a slip in here, in the terminal, without playing anything.
    #[arg(long)]
    typed: bool,
    /// Write a blank slip for pencil as a page that prints on A4, and do nothing else.
    #[arg(long, value_name = "FILE", conflicts_with = "typed")]
    slip: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    if let (Some(person), Mode::Person) = (&arguments.person, mode(arguments)) {
        person.parse::<Code>()?;
    }
    let (set, book, warnings) = set::load(&arguments.set)?;
    if !warnings.is_empty() {
        writeln!(printed::err(), "{warnings}")?;
    }
    if let Some(page) = &arguments.slip {
        let sat = Sitting::new(&set, mode(arguments), &looks(&set, arguments)?, &[]);
        let html = report::slip(&set, &sat).html();
        let clips = set.looks.iter().map(|look| arguments.set.with_file_name("").join(&look.clip));
        let mut of = Of::default();
        of.extend(clips.map(|clip| Of::clip(&clip)));
        let leaving = Leaving::new(page, FileKind::Page).of(of);
        return Ok(leaving.write(html.as_bytes(), Home::of_user().as_ref())?);
    }
    if arguments.typed {
        let (file, begun, records) = opened(&set, arguments)?;
        let sat = Sitting::new(&set, begun.mode, &begun.looks, &records);
        let mut typist = Typist { set: &set, book: &book, file, sat, set_file: &arguments.set };
        return typist.run();
    }
    open_window(arguments)
}

#[cfg(feature = "window")]
fn open_window(arguments: &Arguments) -> anyhow::Result<()> {
    use stillcall::window::{OpensOn, SetWanted};
    super::show(OpensOn::Set(SetWanted {
        set: arguments.set.clone(),
        person: arguments.person.clone(),
        mode: mode(arguments),
    }))
}

#[cfg(not(feature = "window"))]
fn open_window(_: &Arguments) -> anyhow::Result<()> {
    anyhow::bail!("this build has no window; add --typed to sit it here, or --slip")
}

const fn mode(arguments: &Arguments) -> Mode {
    if arguments.group { Mode::Group } else { Mode::Person }
}

/// Returns the person's or group's code as it stands in the file.
fn code(arguments: &Arguments) -> &str {
    let usual = if arguments.group { "group" } else { "J-1" };
    arguments.person.as_deref().unwrap_or(usual)
}

fn looks(set: &Set, arguments: &Arguments) -> anyhow::Result<Vec<String>> {
    Ok(sitting::plan(set, &earlier(arguments)?))
}

fn earlier(arguments: &Arguments) -> anyhow::Result<Vec<Vec<Record>>> {
    let mut earlier = Vec::new();
    for path in sitting::files_of(&arguments.set, code(arguments)) {
        earlier.push(sitting::read(&path)?.1);
    }
    Ok(earlier)
}

/// Goes on with the person's last sitting where it is not finished, or begins a new one.
fn opened(set: &Set, arguments: &Arguments) -> anyhow::Result<(SittingFile, Begun, Vec<Record>)> {
    let code = code(arguments);
    Ok(sitting::go_on_or_begin(set, &arguments.set, (code, mode(arguments)), &today())?)
}

fn today() -> String {
    jiff::Timestamp::now().strftime("%Y-%m-%d").to_string()
}

/// Hands a typed answer to the sitting.
type Take<'a> = dyn Fn(&mut Sitting, Option<Answer>) -> Result<(), sitting::Refused> + 'a;

/// A sitting in the terminal.
struct Typist<'a> {
    set: &'a Set,
    book: &'a Book,
    file: SittingFile,
    sat: Sitting,
    set_file: &'a Path,
}

impl Typist<'_> {
    fn run(&mut self) -> anyhow::Result<()> {
        let mut out = printed::out();
        loop {
            let goes_on = match self.sat.stage().clone() {
                SittingStage::Done => {
                    writeln!(out, "\nDone. Kept in {}", self.file.path().display())?;
                    false
                }
                SittingStage::Cue => self.cue()?,
                SittingStage::Looking => {
                    self.take(SittingEvent::LookEnded { dropped: 0, now_ms: 0 })?
                }
                SittingStage::Answering { .. } => self.answers()?,
                SittingStage::Still(_) => self.still()?,
                SittingStage::Line(_) => self.line()?,
                SittingStage::Reference(_) => self.reference()?,
                // Writing is done as soon as it is asked for.
                SittingStage::Opening
                | SittingStage::Writing { .. }
                | SittingStage::Keeping(_)
                | SittingStage::Skipping { .. } => false,
            };
            out.flush()?;
            if !goes_on {
                return Ok(());
            }
        }
    }

    /// Takes an event and does what it asks for.
    fn take(&mut self, event: SittingEvent) -> anyhow::Result<bool> {
        let mut effects = self.sat.take(event)?;
        while let Some(effect) = effects.pop() {
            if let Effect::Write(record) = effect {
                self.file.append(&record)?;
                effects.extend(self.sat.take(SittingEvent::Written)?);
            }
        }
        Ok(true)
    }

    fn cue(&mut self) -> anyhow::Result<bool> {
        let Some(look) = self.sat.look().cloned() else { return Ok(false) };
        let (number, of) = self.sat.place();
        let mut out = printed::out();
        writeln!(out, "\nLook {number} of {of}: {}, {}", look.event, look.division)?;
        if !look.cue.is_empty() {
            writeln!(out, "{}", look.cue)?;
        }
        if let Err(why) = library::clip_of_look(self.set_file, self.set, &look) {
            writeln!(out, "{why}. This look is left out; the rest goes on.")?;
            return self.take(SittingEvent::CannotShow(why.to_string()));
        }
        self.take(SittingEvent::Ready)
    }

    fn answers(&mut self) -> anyhow::Result<bool> {
        let Some(look) = self.sat.look().cloned() else { return Ok(false) };
        for (place, question) in look.questions.iter().enumerate() {
            let words = set::vocabulary(self.book, question.ask, &look.event, &look.division);
            let take = |sat: &mut Sitting, answer| {
                sat.take(SittingEvent::Typed(place, answer)).map(|_| ())
            };
            if self.ask(question, &question.words(), &words, &take)?.is_none() {
                return Ok(false);
            }
        }
        self.take(SittingEvent::HandedIn)?;
        writeln!(printed::out(), "Written.")?;
        Ok(true)
    }

    fn still(&mut self) -> anyhow::Result<bool> {
        let (Some(look), Some(question)) = (self.sat.look().cloned(), self.sat.question().cloned())
        else {
            return Ok(false);
        };
        let mut out = printed::out();
        match question.still_ms {
            Some(ms) => {
                writeln!(out, "\nStill: {} at {}.{:03} s", look.clip, ms / 1000, ms % 1000)?;
            }
            None => writeln!(out, "\nNo still is named for this question.")?,
        }
        let words = set::vocabulary(self.book, question.ask, &look.event, &look.division);
        let asked = format!("After the still: {}", question.words());
        let given = self.ask(&question, &asked, &words, &|sat, answer| {
            sat.take(SittingEvent::TypedAfter(answer)).map(|_| ())
        })?;
        if given.is_none() { Ok(false) } else { self.take(SittingEvent::Next) }
    }

    fn line(&mut self) -> anyhow::Result<bool> {
        if let Some(question) = self.sat.question() {
            let mut out = printed::out();
            for said in [&question.line, &question.number] {
                if !said.is_empty() {
                    writeln!(out, "{said}")?;
                }
            }
        }
        self.take(SittingEvent::Next)
    }

    fn reference(&mut self) -> anyhow::Result<bool> {
        if let Some(question) = self.sat.question() {
            let place =
                self.sat.look().and_then(|look| look.questions.iter().position(|q| q == question));
            let answer =
                place.and_then(|place| self.sat.answers().get(place)).and_then(Option::as_ref);
            writeln!(printed::out(), "{}", question.told(answer))?;
        }
        self.take(SittingEvent::Next)
    }

    /// Asks until there is an answer or an empty line; returns nothing at the end of the input.
    fn ask(
        &mut self,
        question: &Question,
        asked: &str,
        words: &[Word],
        take: &Take<'_>,
    ) -> anyhow::Result<Option<()>> {
        let mut out = printed::out();
        loop {
            write!(out, "{asked} {}> ", self.hint(question))?;
            out.flush()?;
            let mut typed = String::new();
            if io::stdin().lock().read_line(&mut typed)? == 0 {
                writeln!(out, "\nBroken off. What was written stays; the same command goes on.")?;
                return Ok(None);
            }
            let entered = match self.sat.mode() {
                Mode::Person => {
                    set::entered(question.ask, &typed, words).map_err(|e| e.to_string())
                }
                Mode::Group => set::hands(question.ask, &typed).map_err(|e| e.to_string()),
            };
            let taken =
                entered.and_then(|answer| take(&mut self.sat, answer).map_err(|e| e.to_string()));
            match taken {
                Ok(()) => return Ok(Some(())),
                Err(why) => writeln!(out, "  {why}")?,
            }
        }
    }

    fn hint(&self, question: &Question) -> String {
        match (self.sat.mode(), question.choices()) {
            (Mode::Group, Some(words)) => format!("(hands for {}) ", words.join(", for ")),
            (_, Some(words)) => format!("({}) ", words.join(", ")),
            _ => String::new(),
        }
    }
}
