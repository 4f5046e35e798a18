//! One file for another club: marks, records, rule books and, where it may be, clips, with a list
//! of hashes.

use std::{
    collections::BTreeMap,
    fs::File,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use zip::{CompressionMethod, ZipWriter, write::SimpleFileOptions};

use crate::{
    library::home::{day::today, folder::Home, ledger::FileKind},
    marks::StateFolder,
    store::Unfinished,
    units,
};

use super::{
    bundled::{BundleError, Bundled},
    leave::{Handed, Leaving},
    leave_error::LeaveError,
    manifest::{FORMAT, Listed, Manifest, VERSION},
    outgoing::{Content, Outgoing, WithClips},
};

/// Writes the marks files with the records of their clips and the editions they were scored under
/// into one bundle, and the clips too where `clips` asks for them and their records allow it; what
/// is handed out, and `to` whom, is written down.
///
/// Names of files become hashes, and what was noted of camera and place stays behind.
pub fn export(
    marks_files: &[PathBuf],
    clips: Option<&WithClips<'_>>,
    (state, home): (Option<&StateFolder>, &Home),
    (out, to): (&Path, &str),
) -> Result<Bundled, BundleError> {
    let failed = |cause| LeaveError::Unwritable { path: out.to_owned(), cause };
    // Copies of clips may be large, so that they lie where the bundle will.
    let folder = out.parent().unwrap_or(Path::new(""));
    let copies = Unfinished::begin(folder, "", Some(&home.notes())).map_err(failed)?;
    let mut going = Outgoing::new(state, clips, copies.place());
    for path in marks_files {
        going.take(path)?;
    }
    let (files, done) = going.finish()?;
    if done.marks == 0 {
        return Err(BundleError::Empty);
    }
    let athletes = done.athletes.iter().map(|athlete| (String::new(), athlete.clone()));
    let of = athletes.chain(done.of_clips.iter().map(|clip| (clip.clone(), String::new())));
    let of = of.collect();
    Leaving::new(out, FileKind::Bundle)
        .of(of)
        .handed(Handed { to, pictures: done.clips > 0 })
        .anew()
        .make(Some(home), |place| Ok(write(&mut File::create(place)?, &files)?))?;
    Ok(done)
}

fn write(out: &mut File, files: &BTreeMap<String, Content>) -> io::Result<()> {
    let listed = files.iter().map(|(name, content)| {
        let (bytes, hash) = match content {
            Content::Text(text) => (text.len() as u64, blake3::hash(text).to_hex().to_string()),
            Content::Clip(path) => {
                let mut file = File::open(path)?;
                (file.metadata()?.len(), units::content_hash(&mut file)?)
            }
        };
        Ok(Listed { name: name.clone(), bytes, hash })
    });
    let manifest = Manifest {
        format: FORMAT.to_owned(),
        version: VERSION,
        made: today(),
        files: listed.collect::<io::Result<_>>()?,
    };
    let packed = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    // A clip cannot be packed any closer; stored as it is, nobody can claim that it unpacks to more.
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut archive = ZipWriter::new(out);
    archive.start_file("manifest.json", packed)?;
    archive.write_all(serde_json::to_string_pretty(&manifest)?.as_bytes())?;
    for (name, content) in files {
        match content {
            Content::Text(text) => {
                archive.start_file(name.as_str(), packed)?;
                archive.write_all(text)?;
            }
            Content::Clip(path) => {
                archive.start_file(name.as_str(), stored.large_file(true))?;
                io::copy(&mut File::open(path)?, &mut archive)?;
            }
        }
    }
    archive.finish()?;
    Ok(())
}
