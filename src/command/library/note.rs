use std::{
    io::{self, Write},
    path::{Path, PathBuf},
};

use crate::command::printed;
use anyhow::anyhow;
use clap::{Args, ValueEnum};
use jiff::civil::Date;
use stillcall::library::{
    self, Agrees, Asked, Athlete, Code, NewConsent, Others, Purpose, RecordError, Ruling, Shows,
    Sidecar, SidecarFile, Use,
};

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// Where the clip came from.
    #[arg(long, value_name = "TEXT")]
    source: Option<String>,
    /// Day of filming, such as 2026-10-17.
    #[arg(long, value_name = "DATE")]
    filmed: Option<Date>,
    /// Notes on the filming. Do not write about a child's body, and write no names.
    #[arg(long, value_name = "TEXT")]
    notes: Option<String>,
    /// Nobody is in the picture: it is drawn, or the hall is empty.
    #[arg(long)]
    nobody: bool,
    /// Other people who can be recognised: none, recognisable, or covered.
    #[arg(long, value_name = "WHICH")]
    others: Option<Others>,
    /// Whether an injury or distress is seen.
    #[arg(long, value_name = "YES|NO")]
    injury_or_distress: Option<YesNo>,
    /// Day by which the clip is to be deleted.
    #[arg(long, value_name = "DATE")]
    delete_by: Option<Date>,
    #[command(flatten)]
    consent: ConsentArguments,
    /// Whoever withdrew her consent is cut out or covered now.
    #[arg(long)]
    covered_who_withdrew: bool,
    /// The clip was altered since it was noted, you looked at it, and what is noted still holds.
    #[arg(long)]
    still_holds: bool,
}

#[derive(Debug, Args)]
struct ConsentArguments {
    /// Code of the athlete, never a name.
    #[arg(long, value_name = "CODE")]
    athlete: Option<Code>,
    /// Who consents.
    #[arg(long, value_name = "WHO", requires_all = ["athlete", "purposes", "by"])]
    consent: Option<Consenting>,
    /// Who holds the signed form, by role or code.
    #[arg(long, value_name = "WHO", requires = "consent")]
    by: Option<String>,
    /// Last day on which the consent holds.
    #[arg(long, value_name = "DATE", requires = "consent")]
    until: Option<Date>,
    /// What the consent is for: training, library, course, publication.
    #[arg(long = "for", value_name = "PURPOSES", value_delimiter = ',', requires = "consent")]
    purposes: Vec<Purpose>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum YesNo {
    Yes,
    No,
}

#[derive(Clone, Copy, Debug, PartialEq, ValueEnum)]
enum Consenting {
    /// The athlete; a parent has to agree as well.
    Athlete,
    /// A parent; the athlete has to agree as well.
    Parent,
    /// Both the athlete and a parent.
    Both,
    /// The athlete alone, because by the club's rules she is old enough.
    Alone,
}

#[derive(Debug, Args)]
pub(crate) struct InfoArguments {
    /// The clip.
    clip: PathBuf,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let clip = &arguments.clip;
    let was = library::read_record(clip)?.noted;
    if arguments.notes.is_some() {
        writeln!(
            printed::err(),
            "notes are about the filming: no names, and nothing about a child's body"
        )?;
    }
    let mut now = was.clone();
    write_down(&mut now, arguments);
    library::write_record(clip, (&was, &now), arguments.still_holds).map_err(
        |error| match error {
            RecordError::Altered(_) => anyhow!("{error} with --still-holds"),
            other => other.into(),
        },
    )?;
    show(clip, &now)
}

pub(super) fn info(arguments: &InfoArguments) -> anyhow::Result<()> {
    let file = SidecarFile::open(&arguments.clip)?;
    show(&arguments.clip, &file.sidecar)
}

fn write_down(noted: &mut Sidecar, arguments: &Arguments) {
    if let Some(text) = &arguments.source {
        noted.source.clone_from(text);
    }
    if let Some(text) = &arguments.notes {
        noted.notes.clone_from(text);
    }
    noted.filmed = arguments.filmed.or(noted.filmed);
    noted.delete_by = arguments.delete_by.or(noted.delete_by);
    noted.others = arguments.others.unwrap_or(noted.others);
    if let Some(seen) = arguments.injury_or_distress {
        noted.injury_or_distress = matches!(seen, YesNo::Yes);
    }
    if arguments.covered_who_withdrew {
        noted.somebody_withdrew = false;
    }
    if arguments.nobody {
        noted.shows = Shows::Nobody;
    }
    if let Some(code) = &arguments.consent.athlete {
        noted.shows = Shows::People;
        noted.athlete_mut(code.as_str());
        consent(noted, code, &arguments.consent);
    }
}

fn consent(noted: &mut Sidecar, code: &Code, arguments: &ConsentArguments) {
    let Some(consenting) = arguments.consent else { return };
    let consent = NewConsent {
        agrees: match consenting {
            Consenting::Athlete => Agrees::Athlete,
            Consenting::Parent => Agrees::Parent,
            Consenting::Both => Agrees::Both,
            Consenting::Alone => Agrees::Alone,
        },
        by: arguments.by.clone().unwrap_or_default(),
        until: arguments.until,
        purposes: arguments.purposes.iter().copied().collect(),
    };
    noted.note_consent(code, &consent, library::today());
}

/// Prints what is noted and what follows from it.
fn show(clip: &Path, noted: &Sidecar) -> anyhow::Result<()> {
    let mut out = printed::out();
    writeln!(out, "{}", clip.display())?;
    for (name, value) in facts(noted) {
        writeln!(out, "  {name}: {value}")?;
    }
    for athlete in &noted.athletes {
        show_athlete(&mut out, athlete)?;
    }
    for agreed in &noted.agreed {
        let by = agreed.by.join(", ");
        let (on, book, edition) = (agreed.on, &agreed.book, &agreed.edition);
        writeln!(
            out,
            "  routine {}: agreed by {by} on {on} under {book} {edition}",
            agreed.routine
        )?;
    }
    for copy in library::copies(clip) {
        writeln!(out, "  another copy of what is noted: {}", copy.display())?;
    }
    writeln!(out, "  may be watched and scored")?;
    for purpose in Purpose::ALL {
        for (what, name) in [(Use::Pictures(purpose), "pictures"), (Use::Set(purpose), "sets")] {
            let asked = Asked { what, athletes: &[], routine: "", today: library::today() };
            writeln!(out, "  {name} for {purpose}: {}", in_words(&library::ask(clip, &asked)))?;
        }
    }
    Ok(out.flush()?)
}

fn facts(noted: &Sidecar) -> Vec<(&'static str, String)> {
    let day = |day: Option<Date>| day.map(|day| day.to_string()).unwrap_or_default();
    let yes = |holds: bool| if holds { "yes".to_owned() } else { String::new() };
    let all = [
        ("source", noted.source.clone()),
        ("filmed", day(noted.filmed)),
        ("notes", noted.notes.clone()),
        ("nobody is in the picture", yes(noted.shows == Shows::Nobody)),
        ("others who can be recognised", noted.others.word().to_owned()),
        ("injury or distress", yes(noted.injury_or_distress)),
        ("somebody on it withdrew her consent", yes(noted.somebody_withdrew)),
        ("delete by", day(noted.delete_by)),
    ];
    all.into_iter().filter(|(_, value)| !value.is_empty()).collect()
}

fn show_athlete(out: &mut impl Write, athlete: &Athlete) -> io::Result<()> {
    let alone = if athlete.consents_alone { ", consents for herself" } else { "" };
    writeln!(out, "  {}{alone}", athlete.code)?;
    for consent in &athlete.consents {
        let purposes: Vec<String> = consent.purposes.iter().map(Purpose::to_string).collect();
        let until = consent.until.map_or("it is withdrawn".to_owned(), |day| day.to_string());
        writeln!(
            out,
            "    {} for {}, until {until}; form held by {}, noted {}",
            consent.of,
            purposes.join(", "),
            consent.by,
            consent.noted
        )?;
    }
    Ok(())
}

fn in_words(ruling: &Ruling) -> String {
    if ruling.is_allowed() {
        return "yes".to_owned();
    }
    let reasons: Vec<String> = ruling.against.iter().map(ToString::to_string).collect();
    format!("no: {}", reasons.join("; "))
}
