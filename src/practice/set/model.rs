use super::question::Question;

/// Looks with their questions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Set {
    /// Id that sittings name.
    pub id: String,
    /// Title.
    pub title: String,
    /// Name or file of the rule book.
    pub book: String,
    /// Seconds to answer after a look; 0 when there is no limit.
    pub seconds: u32,
    /// What the clips are shown for: `training`, `library`, `course` or `publication`, each agreed
    /// to by itself.
    pub purpose: String,
    /// Whether it examines somebody, so that every routine needs an agreed reference.
    pub examination: bool,
    /// Looks in the order of the file.
    pub looks: Vec<Look>,
    /// BLAKE3 hash of the file's text, in hex.
    pub hash: String,
}

/// A span of a clip that is watched once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// Id within the set.
    pub id: String,
    /// Clip file, from the folder of the set file.
    pub clip: String,
    /// BLAKE3 hash of the clip's bytes, in hex; empty when nothing is checked.
    pub clip_hash: String,
    /// Routine within the clip, as its marks files call it; may be empty, but not in an examination.
    pub routine: String,
    /// Where the span begins, in milliseconds of the clip.
    pub from_ms: i64,
    /// Where it ends.
    pub to_ms: i64,
    /// Event id.
    pub event: String,
    /// Division id.
    pub division: String,
    /// What to watch, said before the look; may be empty.
    pub cue: String,
    /// Whether something is seen here that nobody should meet unprepared.
    pub flag: Option<Flag>,
    /// Whether somebody put it into the set in spite of the flag.
    pub on_purpose: bool,
    /// Questions in the order in which they are asked.
    pub questions: Vec<Question>,
}

/// Something that nobody should meet unprepared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flag {
    /// Somebody is hurt.
    Injury,
    /// Somebody is in distress.
    Distress,
}

impl Look {
    /// Returns whether it may be shown: a flagged one only where somebody said so.
    pub const fn may_be_shown(&self) -> bool {
        self.flag.is_none() || self.on_purpose
    }
}

impl Set {
    /// Returns the look of that id.
    pub fn look(&self, id: &str) -> Option<&Look> {
        self.looks.iter().find(|look| look.id == id)
    }
}
