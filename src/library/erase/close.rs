//! Closing a clip on which somebody who withdrew is seen beside others.

use std::path::Path;

use crate::{
    library::consent::{
        code::Code,
        sidecar::Others,
        sidecar_file::{SidecarFile, copies},
    },
    store::DocumentError,
};

/// Takes her out of the record of a clip that shows others as well, and out of second copies of it,
/// and closes it.
pub(crate) fn close(clip: &Path, code: &Code, routines: &[String]) -> Result<(), DocumentError> {
    let mut files = vec![SidecarFile::begin(clip)?];
    for copy in copies(clip) {
        files.extend(SidecarFile::at(copy));
    }
    for mut file in files {
        let noted = &mut file.sidecar;
        noted.athletes.retain(|athlete| !code.is(&athlete.code));
        noted.agreed.retain(|agreed| !routines.contains(&agreed.routine));
        noted.others = Others::Recognisable;
        noted.somebody_withdrew = true;
        for text in [&mut noted.source, &mut noted.notes] {
            if code.is_in(text.as_bytes()) {
                text.clear();
            }
        }
        file.save()?;
    }
    Ok(())
}

/// Closes a clip that was to go and cannot be taken away.
pub(crate) fn close_meanwhile(clip: &Path) -> Result<(), DocumentError> {
    let mut file = SidecarFile::begin(clip)?;
    if file.sidecar.somebody_withdrew {
        return Ok(());
    }
    file.sidecar.somebody_withdrew = true;
    file.save()
}
