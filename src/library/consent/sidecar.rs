//! What is noted of a clip, as values: what `<clip>.clip.json` holds.

use std::{collections::BTreeSet, fmt, path::Path, str::FromStr};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::marks::{self, Sheaf, model::Unknown};

/// Everything that is noted of one clip.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sidecar {
    /// The clip that this was noted of; absent until the clip was looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clip: Option<ClipName>,
    /// Where the clip came from: which camera, which meet, who handed it over.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
    /// Day of filming.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filmed: Option<Date>,
    /// Notes on the filming: place of the camera, light; never on a child's body.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// Whether there are people in the picture at all.
    #[serde(default)]
    pub shows: Shows,
    /// Who is filmed, by code, and what she and a parent agreed to.
    #[serde(default)]
    pub athletes: Vec<Athlete>,
    /// Whether other people can be recognised.
    #[serde(default)]
    pub others: Others,
    /// Whether an injury or distress is seen.
    #[serde(default)]
    pub injury_or_distress: bool,
    /// Whether somebody who is still seen on it has withdrawn her consent.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub somebody_withdrew: bool,
    /// Day by which the clip is to be deleted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub delete_by: Option<Date>,
    /// The clip that this one was cut from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken_from: Option<TakenFrom>,
    /// What was agreed on of its routines.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub agreed: Vec<Agreed>,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// Which file a sidecar is about.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClipName {
    /// File name when last seen, without folder.
    pub name: String,
    /// Quick id of the content.
    pub quick_id: String,
    /// BLAKE3 hash of all bytes, in hex; absent until it was computed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub content_hash: Option<String>,
}

/// Whether there are people in a clip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shows {
    /// People, as nearly always.
    #[default]
    People,
    /// Nobody: a drawn clip or an empty hall. Nobody's consent is needed.
    Nobody,
}

/// An athlete in a clip.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Athlete {
    /// Her code, never a name.
    pub code: String,
    /// Whether by the club's rules she is old enough to consent without a parent.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub consents_alone: bool,
    /// What was agreed to.
    #[serde(default)]
    pub consents: Vec<Consent>,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// One consent as it was given.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Consent {
    /// Whose it is.
    pub of: Who,
    /// Who holds the signed form, by role or code.
    #[serde(default)]
    pub by: String,
    /// Day on which it was noted.
    pub noted: Date,
    /// Last day on which it holds; absent when it holds until it is withdrawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<Date>,
    /// What for.
    #[serde(rename = "for")]
    pub purposes: BTreeSet<Purpose>,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// Who consents.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Who {
    /// The athlete herself.
    Athlete,
    /// A parent or guardian.
    Parent,
}

/// What a clip is used for. None contains another: each is agreed to by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// The athlete's own training.
    Training,
    /// The club's library, for its coaches and judge trainees.
    Library,
    /// A course outside the club.
    Course,
    /// Anything that anybody may see.
    Publication,
}

/// Whether people other than the athletes can be recognised.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Others {
    /// Nobody looked yet.
    #[default]
    NotNoted,
    /// There are none.
    None,
    /// There are some.
    Recognisable,
    /// There were some, and they are covered or cropped away.
    Covered,
}

/// The clip that an excerpt was cut from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TakenFrom {
    /// BLAKE3 hash of that clip.
    pub content_hash: String,
    /// First and last frame there.
    pub frames: [u64; 2],
}

/// What two or more judges agreed on of one routine: the reference.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Agreed {
    /// Routine within the clip.
    pub routine: String,
    /// Codes of those who agreed.
    pub by: Vec<String>,
    /// Day.
    pub on: Date,
    /// Id of the rule book.
    pub book: String,
    /// Its edition.
    pub edition: String,
    /// BLAKE3 hash of its text, in hex.
    #[serde(default)]
    pub book_hash: String,
    /// Name of the marks file that was agreed on, beside the clip.
    pub marks: String,
    /// The marks as they were then: these and those of everybody who agreed. Absent in records of
    /// earlier versions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub of: Vec<SealedMarks>,
    /// What came out, in the order of the sheet.
    pub calls: Vec<AgreedCall>,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// Marks as they were when something was agreed on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SealedMarks {
    /// Name of the file, beside the clip.
    pub marks: String,
    /// What tells whether they are still the same.
    pub seal: String,
}

impl SealedMarks {
    /// Returns marks as they are now.
    pub(crate) fn of(path: &Path, sheaf: &Sheaf) -> Self {
        let marks = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Self { marks, seal: marks::seal(sheaf) }
    }
}

/// Marks that lie elsewhere now, and stand on other frames.
#[derive(Clone, Debug)]
pub(crate) struct MovedMarks {
    pub was: SealedMarks,
    pub is: SealedMarks,
}

/// What became of what was agreed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The marks are as they were.
    Holds,
    /// The marks that were agreed on are not there any more.
    Gone,
    /// These or somebody else's, in this place of [`Agreed::of`], were changed since.
    Changed(usize),
}

impl Agreed {
    /// Returns whether two judges or more agreed; a reference may be of one judge alone.
    pub fn is_of_several(&self) -> bool {
        self.by.len() > 1
    }

    /// Returns what became of it; `seal_of` tells the seal of marks that are there, by the name of
    /// their file. What a judge agreed to does not change when her marks are taken away.
    pub fn standing(&self, seal_of: impl Fn(&str) -> Option<String>) -> Standing {
        if seal_of(&self.marks).is_none() {
            return Standing::Gone;
        }
        let changed = self
            .of
            .iter()
            .position(|then| seal_of(&then.marks).is_some_and(|now| now != then.seal));
        changed.map_or(Standing::Holds, Standing::Changed)
    }

    /// Follows the clip to another name.
    pub(crate) fn rename_clip(&mut self, was: &str, is: &str) {
        for name in [&mut self.marks].into_iter().chain(self.of.iter_mut().map(|it| &mut it.marks))
        {
            if let Some(rest) = name.strip_prefix(was) {
                *name = format!("{is}{rest}");
            }
        }
    }

    /// Returns it for a copy to which these marks went along; nothing where those that were agreed on
    /// did not. What was changed since stays changed.
    pub(crate) fn carried(&self, moved: &[MovedMarks]) -> Option<Self> {
        let to = |name: &str| moved.iter().find(|moved| moved.was.marks == name);
        let of = self.of.iter().filter_map(|then| {
            let MovedMarks { was, is } = to(&then.marks)?;
            let seal = if was.seal == then.seal { &is.seal } else { &then.seal };
            Some(SealedMarks { marks: is.marks.clone(), seal: seal.clone() })
        });
        let of = of.collect();
        Some(Self { marks: to(&self.marks)?.is.marks.clone(), of, ..self.clone() })
    }
}

/// One thing that was agreed on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AgreedCall {
    /// What it answers: `void`, `start value`, `score`, `requirement ID`, `value of ELEMENT TURN`,
    /// `RULE at ELEMENT TURN`, `taken for RULE`.
    pub asks: String,
    /// The same in the book's words.
    pub label: String,
    /// The answer: `met`, `missed`, `close`, `not counted`, `open`, an amount, `yes` or `no`.
    pub answer: String,
}

impl Sidecar {
    /// Returns the athlete of that code.
    pub fn athlete(&self, code: &str) -> Option<&Athlete> {
        self.athletes.iter().find(|athlete| athlete.code == code)
    }

    /// Returns the athlete of that code, put in first where she was missing.
    pub fn athlete_mut(&mut self, code: &str) -> &mut Athlete {
        let place = self.athletes.iter().position(|athlete| athlete.code == code);
        let place = place.unwrap_or_else(|| {
            self.athletes.push(Athlete { code: code.to_owned(), ..Athlete::default() });
            self.athletes.len() - 1
        });
        &mut self.athletes[place]
    }

    /// Returns what was agreed on of a routine.
    pub fn agreed(&self, routine: &str) -> Option<&Agreed> {
        self.agreed.iter().find(|agreed| agreed.routine == routine)
    }
}

impl Purpose {
    /// All of them, the narrowest first.
    pub const ALL: [Self; 4] = [Self::Training, Self::Library, Self::Course, Self::Publication];

    /// Returns its name on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Training => "training",
            Self::Library => "library",
            Self::Course => "course",
            Self::Publication => "publication",
        }
    }
}

impl Others {
    /// All that can be noted.
    pub const ALL: [Self; 3] = [Self::None, Self::Recognisable, Self::Covered];

    /// Returns its name on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotNoted => "not noted",
            Self::None => "none",
            Self::Recognisable => "recognisable",
            Self::Covered => "covered",
        }
    }
}

impl fmt::Display for Purpose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Training => "own training",
            Self::Library => "the club library",
            Self::Course => "a course",
            Self::Publication => "publication",
        })
    }
}

impl fmt::Display for Who {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Athlete => "the athlete",
            Self::Parent => "a parent",
        })
    }
}

/// A word was none of those that can be said here.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
#[error("\"{word}\" is none of {known}")]
pub struct NoSuchWord {
    /// The word.
    pub word: String,
    /// Those that can be said.
    pub known: String,
}

impl FromStr for Purpose {
    type Err = NoSuchWord;
    fn from_str(word: &str) -> Result<Self, NoSuchWord> {
        one_of(&Self::ALL, Self::word, word)
    }
}

impl FromStr for Others {
    type Err = NoSuchWord;
    fn from_str(word: &str) -> Result<Self, NoSuchWord> {
        one_of(&Self::ALL, Self::word, word)
    }
}

fn one_of<T: Copy>(all: &[T], name: fn(T) -> &'static str, word: &str) -> Result<T, NoSuchWord> {
    let known = || all.iter().map(|&one| name(one)).collect::<Vec<_>>().join(", ");
    all.iter()
        .copied()
        .find(|&one| name(one) == word)
        .ok_or_else(|| NoSuchWord { word: word.to_owned(), known: known() })
}
