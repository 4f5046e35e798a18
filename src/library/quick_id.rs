use std::{fs::File, io, path::Path};

use crate::units;

/// Returns the quick id of a clip's file.
pub fn quick_id(clip: &Path) -> io::Result<String> {
    let mut file = File::open(clip)?;
    let length = file.metadata()?.len();
    units::quick_id(&mut file, length)
}
