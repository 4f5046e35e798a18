//! What the wall asks of the library; all of it reads disks, so none of it is for the window's
//! thread.

use std::path::{Path, PathBuf};

use anyhow::Context as _;

use crate::{
    footage::ApartDecoder,
    judged::Judging,
    library::{
        self, AssignError, Assigned, Found, Home, Index, IndexError, KnownNames, Page, Purpose,
        SetWishes, Settings, Shelf, today,
    },
    marks::StateFolder,
    practice::set::Ask,
    rulebook,
    units::counted,
    window::{viewer::stage::facts_told, words::sentence},
};

use super::tile::Tile;

/// Tiles that are fetched at once: more than a large screen holds.
pub(crate) const PAGE: u32 = 60;

/// A page of what was found, and what the library holds.
#[derive(Clone, Debug)]
pub(crate) struct FoundPage {
    /// The tiles, from `PAGE` times its number on.
    pub tiles: Vec<Tile>,
    /// How many there are in all.
    pub all: u32,
    /// Folders of the library.
    pub folders: Vec<PathBuf>,
    /// Names of the saved searches with their words.
    pub searches: Vec<(String, String)>,
    /// Clips to be deleted by today.
    pub due: usize,
}

/// Why nothing was found.
#[derive(Clone, Debug)]
pub(crate) enum Failed {
    /// The words of the search are not understood: why, and from which letter on.
    Query(String, usize),
    /// The index broke; it is to be made anew.
    Damaged,
    /// Something else.
    Other(String),
}

/// What is said of a broken index.
pub(crate) const DAMAGED: &str = "The index was damaged and is made anew from your files";

impl From<anyhow::Error> for Failed {
    fn from(error: anyhow::Error) -> Self {
        if is_damaged(&error) {
            Self::Damaged
        } else {
            Self::Other(sentence(&format!("{error:#}")))
        }
    }
}

pub(crate) fn is_damaged(error: &anyhow::Error) -> bool {
    matches!(error.downcast_ref(), Some(IndexError::Damaged { .. }))
}

/// Where the library is kept; nowhere for a user without a home folder.
pub(crate) type Kept = Option<Home>;

pub(crate) fn there(kept: &Kept) -> anyhow::Result<&Home> {
    kept.as_ref().context("this user has no home folder to keep the library's index in")
}

/// Returns a page of what a search finds.
pub(crate) fn find(kept: &Kept, words: &str, page: u32) -> Result<FoundPage, Failed> {
    let query = library::parse(words)
        .map_err(|it| Failed::Query(format!("{}: {}", it.message, it.help), it.at))?;
    let found = || -> anyhow::Result<FoundPage> {
        let home = there(kept)?;
        let (shelf, index) = (Shelf::read(home)?, Index::open(home)?);
        if index.found() == Found::Damaged {
            return Err(IndexError::Damaged {
                path: index.path().to_owned(),
                detail: "it could not be opened".to_owned(),
            }
            .into());
        }
        let page = Page { from: page * PAGE, most: PAGE };
        let (hits, all) = library::find(&index, &query, page, today())?;
        Ok(FoundPage {
            tiles: hits.into_iter().map(Tile::of).collect(),
            all,
            folders: shelf.folders,
            searches: shelf.searches.into_iter().collect(),
            due: library::due(&index, today())?.len(),
        })
    };
    Ok(found()?)
}

/// Returns what may follow each word of a search.
pub(crate) fn known(kept: &Kept) -> Result<KnownNames, String> {
    let known =
        || -> anyhow::Result<KnownNames> { Ok(library::known(&Index::open(there(kept)?)?)?) };
    known().map_err(|error| sentence(&format!("{error:#}")))
}

/// Returns how many clips are to be deleted by today; none where there is no library.
pub(crate) fn due(kept: &Kept) -> usize {
    let due = || -> anyhow::Result<usize> {
        let home = there(kept)?;
        if !home.path().exists() {
            return Ok(0);
        }
        Ok(library::due(&Index::open(home)?, today())?.len())
    };
    due().unwrap_or(0)
}

/// Takes a folder into the library.
pub(crate) fn add(kept: &Kept, folder: &Path) -> Result<(), String> {
    let add = || -> anyhow::Result<()> {
        let home = there(kept)?;
        let mut shelf = Shelf::read(home)?;
        shelf.add(folder)?;
        Ok(shelf.write(home)?)
    };
    add().map_err(|error| sentence(&format!("{error:#}")))
}

/// Keeps a search under a name.
pub(crate) fn save_search(kept: &Kept, name: &str, words: &str) -> Result<(), String> {
    let save = || -> anyhow::Result<()> {
        let home = there(kept)?;
        let mut shelf = Shelf::read(home)?;
        if shelf.searches.get(name).is_some_and(|there| there != words) {
            anyhow::bail!("There is another search \"{name}\"; give this one another name");
        }
        shelf.searches.insert(name.to_owned(), words.to_owned());
        Ok(shelf.write(home)?)
    };
    save().map_err(|error| sentence(&format!("{error:#}")))
}

/// Makes a set of everything that a search finds, in the first folder of the library; returns its
/// file and what to say of it.
pub(crate) fn make_set(
    kept: &Kept,
    name: &str,
    words: &str,
    book: &str,
) -> Result<(PathBuf, String), String> {
    let make = || -> anyhow::Result<(PathBuf, String)> {
        let home = there(kept)?;
        let shelf = Shelf::read(home)?;
        let index = Index::open(home)?;
        let folder = shelf.folders.first().context("the library has no folder yet")?;
        let page = Page { from: 0, most: u32::MAX };
        let (hits, _) = library::find(&index, &library::parse(words)?, page, today())?;
        let file = folder.join(format!("{}.toml", plain(name)));
        let book = rulebook::load(if book.is_empty() { "saltmarsh" } else { book })?;
        let id = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let wishes = SetWishes {
            id: &id,
            title: name,
            purpose: Purpose::Library,
            examination: false,
            seconds: None,
            asks: &[Ask::Void, Ask::StartValue, Ask::Score],
        };
        let state = StateFolder::of_user();
        let made = library::make_set(&hits, &file, &book, &wishes, state.as_ref());
        let why = made.left_out.first().map(|(_, why)| format!("; the first: {why}"));
        let left_out = match made.left_out.len() {
            0 => String::new(),
            count => format!(", {count} left out{}", why.unwrap_or_default()),
        };
        anyhow::ensure!(made.looks > 0, "No routine may be in a set{left_out}");
        made.write(&file, home)?;
        let said = format!("{} in {}{left_out}", counted(made.looks, "look"), file.display());
        Ok((file, said))
    };
    make().map_err(|error| sentence(&format!("{error:#}")))
}

/// Returns a name as a part of a file's.
fn plain(name: &str) -> String {
    let letter = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    name.trim().chars().map(letter).collect()
}

/// Gives everything that a search finds the same settings, written as in a search: `event bars
/// division redshank date 2026-10-17`. Returns what became of them.
pub(crate) fn assign(
    kept: &Kept,
    settings: &str,
    (words, book): (&str, &str),
    apart: &ApartDecoder,
) -> Result<String, String> {
    let assign = || -> anyhow::Result<String> {
        let home = there(kept)?;
        let state =
            StateFolder::of_user().context("there is no folder for the journal of marks")?;
        let index = Index::open(home)?;
        let page = Page { from: 0, most: u32::MAX };
        let (hits, _) = library::find(&index, &library::parse(words)?, page, today())?;
        let mut settings = settings_of(settings)?;
        if let Some(code) = &settings.athlete {
            library::refuse_withdrawn(Some(home), code)?;
        }
        let book = rulebook::load(if book.is_empty() { "saltmarsh" } else { book })?;
        let facts = |clip: &Path| {
            let told = apart.facts(clip).map_err(|error| error.to_string())?;
            let quick_id = library::quick_id(clip).map_err(|error| error.to_string())?;
            Ok(facts_told(told, clip, quick_id))
        };
        let mut judging = Judging::new(Some(&state));
        let (mut changed, mut same, mut left) = (0, 0, Vec::<AssignError>::new());
        let mut told = Vec::new();
        for hit in &hits {
            // A routine that is judged already keeps its book.
            settings.book = hit.marks.is_none().then_some(&book);
            let tell = &mut |said: &str| told.push(said.to_owned());
            match library::assign(hit, &settings, &facts, (&mut judging, &state), tell) {
                Ok(Assigned::Same(_)) => same += 1,
                Ok(Assigned::Changed(_) | Assigned::Begun(_)) => changed += 1,
                Err(why) => left.push(why),
            }
        }
        let mut said = format!("{changed} changed, {same} were so already");
        if let Some(why) = left.first() {
            said = format!("{said}, {} left as they are: {why}", left.len());
        }
        Ok([vec![said], told].concat().join("; "))
    };
    assign().map_err(|error| sentence(&format!("{error:#}")))
}

fn settings_of(words: &str) -> anyhow::Result<Settings<'static>> {
    let mut settings = Settings::default();
    let words: Vec<&str> = words.split_whitespace().collect();
    for pair in words.chunks(2) {
        let [what, value] = pair else {
            anyhow::bail!("\"{}\" has no value", pair.join(" "));
        };
        let own = || Some((*value).to_owned());
        match *what {
            "event" => settings.event = own(),
            "division" => settings.division = own(),
            "judge" => settings.judge = Some(value.parse()?),
            "athlete" => settings.athlete = Some(value.parse()?),
            "date" => {
                let day = value.parse();
                settings.date =
                    Some(day.map_err(|_| anyhow::anyhow!("\"{value}\" is no day as 2026-10-17"))?);
            }
            _ => anyhow::bail!("\"{what}\" is none of event, division, athlete, judge, date"),
        }
    }
    Ok(settings)
}
