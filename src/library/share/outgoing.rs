//! What goes into a bundle: files under the hash of their clip, without what tells of camera and
//! place.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use crate::{
    library::{
        consent::{
            ask::{NotPermitted, permit},
            gate::{Asked, Use},
            sidecar::{MovedMarks, Purpose, SealedMarks},
            sidecar_file::{self, SidecarFile, sidecar_path},
        },
        home::day::today,
        quick_id,
    },
    marks::{self, ClipFacts, OtherCopy, Sheaf, StateFolder, What, file::Stored},
    store::read_file,
    units::{FrameRef, Ticks},
};

use super::{
    bundled::{BundleError, Bundled},
    manifest::has_ending,
};

/// Clips go along, where what is noted of them allows it.
pub struct WithClips<'a> {
    /// What they are handed over for.
    pub purpose: Purpose,
    /// Copies a clip into a folder, without place, day and device; says in words why it cannot.
    pub copy: &'a dyn Fn(&Path, &Path) -> Result<ClipCopy, String>,
}

/// A copy of a clip that goes along.
pub struct ClipCopy {
    /// Where it lies.
    pub path: PathBuf,
    /// What marks keep of it.
    pub facts: ClipFacts,
    /// How much later its pictures come than the clip's, in its own ticks.
    pub offset: Ticks,
    /// Returns its frame nearest to an instant; nothing beyond its ends.
    pub frame_at: Box<dyn Fn(Ticks) -> Option<FrameRef>>,
}

/// One file of a bundle.
pub(crate) enum Content {
    /// Its bytes.
    Text(Vec<u8>),
    /// A clip, which lies here.
    Clip(PathBuf),
}

/// Collects the files of a bundle.
pub(crate) struct Outgoing<'a> {
    state: Option<&'a StateFolder>,
    clips: Option<&'a WithClips<'a>>,
    copies: &'a Path,
    /// Clips by their path; nothing for one that stays behind.
    copied: BTreeMap<PathBuf, Option<ClipCopy>>,
    files: BTreeMap<String, Content>,
    /// Marks that go, by their clip.
    moved: BTreeMap<PathBuf, Vec<MovedMarks>>,
    /// Clips whose records go, with their name there and the quick id of their content.
    records: BTreeMap<(PathBuf, String), String>,
    done: Bundled,
}

/// Returns how many clips of these marks files would go along for this, and which would stay behind,
/// with every reason.
pub fn would_go(marks_files: &[PathBuf], purpose: Purpose) -> (usize, Vec<NotPermitted>) {
    let clips = marks_files.iter().filter_map(|path| clip_of(path));
    let clips: BTreeSet<PathBuf> = clips.filter(|clip| clip.exists()).collect();
    let asked = clips.iter().map(|clip| permit(clip, &asked(purpose)));
    let stay: Vec<NotPermitted> = asked.filter_map(Result::err).collect();
    (clips.len() - stay.len(), stay)
}

fn asked(purpose: Purpose) -> Asked<'static> {
    Asked { what: Use::Pictures(purpose), athletes: &[], routine: "", today: today() }
}

impl<'a> Outgoing<'a> {
    pub(crate) fn new(
        state: Option<&'a StateFolder>,
        clips: Option<&'a WithClips<'a>>,
        copies: &'a Path,
    ) -> Self {
        let (copied, files, moved, records, done) = Default::default();
        Self { state, clips, copies, copied, files, moved, records, done }
    }

    /// Takes a marks file and what belongs to it.
    pub(crate) fn take(&mut self, path: &Path) -> Result<(), BundleError> {
        let document = marks::file::read(path)?.document;
        let mut sheaf = marks::load(path, self.state)?;
        self.done.athletes.push(sheaf.routine.athlete.clone());
        for (name, text) in editions(self.state, &sheaf.routine.book_hash) {
            self.files.insert(format!("editions/{name}"), Content::Text(text));
        }
        let (clip, was) = (clip_of(path), SealedMarks::of(path, &sheaf));
        let mut stem = format!("planned-{}", &blake3::hash(document.as_bytes()).to_hex()[..16]);
        if let Some(of) = sheaf.clip.as_ref().map(|of| of.quick_id.clone()) {
            stem.clone_from(&of);
            self.done.of_clips.push(of.clone());
            if let Some(clip) = &clip
                && let Some(copy) = self.copy_of(clip, &of)?
            {
                let moved = OtherCopy {
                    facts: copy.facts.clone(),
                    offset: copy.offset,
                    frame_at: &*copy.frame_at,
                };
                sheaf = marks::move_to(&sheaf, &moved).map_err(|error| BundleError::Clip {
                    clip: clip.clone(),
                    detail: error.to_string(),
                })?;
                stem = name_of(copy);
            }
            if let Some(clip) = &clip {
                self.records.insert((clip.clone(), stem.clone()), of);
            }
        }
        if let Some(clip) = &mut sheaf.clip {
            clip.name.clone_from(&stem);
        }
        let name = marks::path_for(Path::new(&stem), &sheaf.routine.id, &sheaf.routine.judge);
        leave_remarks_out(&mut sheaf);
        if let Some(clip) = clip {
            let is = SealedMarks::of(Path::new(&name), &sheaf);
            self.moved.entry(clip).or_default().push(MovedMarks { was, is });
        }
        let stored = Stored::copy_of(&document, sheaf);
        let text = Content::Text(marks::file::text(&stored).into_bytes());
        let new = self.files.insert(format!("files/{}", name.to_string_lossy()), text).is_none();
        self.done.marks += usize::from(new);
        Ok(())
    }

    /// Returns the files by name, and what they come to.
    pub(crate) fn finish(mut self) -> Result<(BTreeMap<String, Content>, Bundled), BundleError> {
        // What was agreed on goes with the marks that it stands on, which are all known now.
        for ((clip, stem), quick_id) in std::mem::take(&mut self.records) {
            self.take_record(&clip, &quick_id, &stem)?;
        }
        self.done.athletes.retain(|code| !code.is_empty());
        self.done.athletes.sort();
        self.done.athletes.dedup();
        self.done.of_clips.sort();
        self.done.of_clips.dedup();
        Ok((self.files, self.done))
    }

    /// Returns the copy of a clip that goes along, made the first time; nothing where none may.
    fn copy_of(&mut self, clip: &Path, quick_id: &str) -> Result<Option<&ClipCopy>, BundleError> {
        let Some(wanted) = self.clips else { return Ok(None) };
        // Marks of other content than the clip has now would stand on other pictures.
        if quick_id::quick_id(clip).is_ok_and(|found| found != quick_id) {
            return Ok(None);
        }
        if !self.copied.contains_key(clip) {
            let copy = match permit(clip, &asked(wanted.purpose)) {
                Ok(()) => {
                    let folder = self.copies.join(quick_id);
                    let failed =
                        |detail: String| BundleError::Clip { clip: clip.to_owned(), detail };
                    fs::create_dir_all(&folder).map_err(|error| failed(error.to_string()))?;
                    let copy = (wanted.copy)(clip, &folder).map_err(failed)?;
                    let name = format!("files/{}", name_of(&copy));
                    self.files.insert(name, Content::Clip(copy.path.clone()));
                    self.done.clips += 1;
                    Some(copy)
                }
                Err(refused) => {
                    self.done.stayed.push(refused);
                    None
                }
            };
            self.copied.insert(clip.to_owned(), copy);
        }
        Ok(self.copied.get(clip).and_then(Option::as_ref))
    }

    /// Takes the record of a clip, without what tells of camera and place.
    fn take_record(&mut self, clip: &Path, quick_id: &str, stem: &str) -> Result<(), BundleError> {
        if !sidecar_path(clip).exists() {
            return Ok(());
        }
        let mut noted = SidecarFile::open(clip)?.sidecar;
        noted.source.clear();
        noted.notes.clear();
        noted.unknown.clear();
        if let Some(of) = &mut noted.clip {
            if of.quick_id != quick_id {
                return Ok(());
            }
            stem.clone_into(&mut of.name);
            if let Some(copy) = self.copied.get(clip).and_then(Option::as_ref) {
                of.quick_id.clone_from(&copy.facts.quick_id);
                of.content_hash.clone_from(&copy.facts.content_hash);
            }
        }
        let moved = self.moved.get(clip).map(Vec::as_slice).unwrap_or_default();
        noted.agreed = noted.agreed.iter().filter_map(|agreed| agreed.carried(moved)).collect();
        self.done.athletes.extend(noted.athletes.iter().map(|athlete| athlete.code.clone()));
        let text = Content::Text(sidecar_file::text(&noted).into_bytes());
        let new = self.files.insert(format!("files/{stem}.clip.json"), text).is_none();
        self.done.records += usize::from(new);
        Ok(())
    }
}

/// Takes out what was written in a judge's own words, and what this version does not know: either
/// may name somebody.
fn leave_remarks_out(sheaf: &mut Sheaf) {
    sheaf.marks.retain(|mark| mark.what != What::Note);
    for mark in &mut sheaf.marks {
        mark.note.clear();
    }
    sheaf.unknown.clear();
    sheaf.routine.unknown.clear();
    if let Some(clip) = &mut sheaf.clip {
        clip.unknown.clear();
    }
}

/// Returns the clip beside a marks file: its name is what comes before
/// `.<routine>.<judge>.marks.json`.
fn clip_of(marks_file: &Path) -> Option<PathBuf> {
    let name = marks_file.file_name()?.to_string_lossy().into_owned();
    let clip = name.strip_suffix(".marks.json")?.rsplitn(3, '.').nth(2)?.to_owned();
    Some(marks_file.with_file_name(clip))
}

/// Returns the name of a copy in a bundle: its hash and its ending.
fn name_of(copy: &ClipCopy) -> String {
    let ending = copy.path.extension().unwrap_or_default().to_string_lossy();
    format!("{}.{ending}", copy.facts.quick_id)
}

/// Returns the kept texts of an edition.
fn editions(state: Option<&StateFolder>, hash: &str) -> Vec<(String, Vec<u8>)> {
    let plain = !hash.is_empty() && hash.chars().all(|c| c.is_ascii_hexdigit());
    let Some(state) = state.filter(|_| plain) else { return Vec::new() };
    let entries = fs::read_dir(state.path().join("editions")).into_iter().flatten().flatten();
    let of_it = entries.filter_map(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_of_it = name.starts_with(&format!("{hash}.")) && has_ending(&name, "toml");
        Some((name, read_file(&entry.path()).ok().filter(|_| is_of_it)?))
    });
    of_it.collect()
}
